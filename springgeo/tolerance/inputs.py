"""What strays, by how much, and who says so: given, a table of the trade, or common practice."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.making.ruling import ruling
from springgeo.message import Message
from springgeo.results.tolerance import Toleranced
from springgeo.specification.end_names import SIDES
from springgeo.specification.tolerances import Band, Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.text.shown import word
from springgeo.trade.dimension_tolerance import diameter_allowance, length_allowance, wire_allowance
from springgeo.trade.held import held, sources

GIVEN, ESTIMATE = word("given"), word("own estimate")
_BEYOND = word("taken for want of a table that reaches")
# names of what strays, and what it is called
WORDS: dict[str, Message] = {
    "wire_diameter": word("wire diameter"),
    "mean_diameter": word("mean diameter"),
    "outer_diameter": word("outside diameter"),
    "inner_diameter": word("inside diameter"),
    "coils": word("body coils"),
    "initial_tension": word("initial tension"),
    "shear_modulus": word("shear modulus"),
    "free_length": word("free length"),
    "hook_length_first": word("hook length, first end"),
    "hook_length_second": word("hook length, second end"),
    "bend_radius_first": word("bend radius, first end"),
    "bend_radius_second": word("bend radius, second end"),
    "tensile_strength": word("tensile strength"),
}


class Input(Toleranced):
    """One thing that strays; ``key`` is the field of the section ``tolerances``."""

    key: str

    @property
    def middle(self) -> float:
        """The deviation in the middle of the tolerance."""
        return (self.low + self.high) / 2

    @property
    def half(self) -> float:
        """Half of the tolerance's width."""
        return (self.high - self.low) / 2

    def widened(self, factor: float) -> Input:
        """Return it with both deviations multiplied."""
        return self.model_copy(update={"low": factor * self.low, "high": factor * self.high})


def inputs(book: Handbook, asked: Tolerances) -> tuple[Input, ...]:
    """Return everything that strays, in a fixed order; what is held exactly has no width.

    Raises
    ------
    SpecError
        A tolerance is given for what this spring does not have, or free length and hook length
        both.
    """
    if asked.free_length is not None and asked.hook_length is not None:
        text = "free_length and hook_length both say how long it comes out; keep one of them"
        raise SpecError(error("two-forms", "tolerances.hook_length", text))
    return tuple(_inputs(book, asked))


def _inputs(book: Handbook, asked: Tolerances) -> Iterator[Input]:
    model, trade = book.model, book.model.spec.drawing.trade
    d, D, C, L_0 = (float(x) for x in (book.d, book.D, book.C, book.L_0))
    by_practice, told = held(d, D, model.turns, L_0, asked.grade), sources()
    standard = str(model.material.standard)
    one = partial(_input, asked)

    def of_trade(name: str, key: str, nominal: float, field: str, reached: object) -> Input:
        off, (source, known) = getattr(by_practice, field), told[field]
        if reached is None:
            source, known = f"{source}; {_BEYOND}", ESTIMATE
        elif trade == "us" and field != "wire_diameter":
            off, source, known = reached  # type: ignore[misc]
        return one(name, key, "length", nominal, off, (source, known))

    wire = wire_allowance(d, standard)
    yield of_trade("wire_diameter", "wire_diameter", d, "wire_diameter", wire)
    rules = ruling(model.spec)
    value = {"mean": D, "outer": D + d, "inner": D - d}[rules]
    allowed = diameter_allowance(D, C, trade)
    yield of_trade(f"{rules}_diameter", "coil_diameter", value, "mean_diameter", allowed)
    yield one("coils", "coils", "number", model.turns, by_practice.coils, told["coils"])
    tension = float(book.initial_tension.force)
    if tension > 0:
        off, by = by_practice.initial_tension * tension, told["initial_tension"]
        yield one("initial_tension", "initial_tension", "force", tension, off, by)
    elif asked.initial_tension is not None:
        text = "this spring has no initial tension that could stray; leave it out"
        raise SpecError(error("no-initial-tension", "tolerances.initial_tension", text))
    G = float(book.material.shear_modulus)
    off = by_practice.shear_modulus * G
    yield one("shear_modulus", "shear_modulus", "stress", G, off, told["shear_modulus"])
    if asked.hook_length is None:
        allowed = length_allowance(L_0, C, trade)
        yield of_trade("free_length", "free_length", L_0, "free_length", allowed)
    yield from _hooks(book, asked)
    if asked.tensile_strength is not None:
        S = float(book.material.tensile_strength)
        yield one("tensile_strength", "tensile_strength", "stress", S)


def _hooks(book: Handbook, asked: Tolerances) -> Iterator[Input]:
    for key in ("hook_length", "bend_radius"):
        if getattr(asked, key) is None:
            continue
        found = []
        for side in SIDES:
            end, shape = getattr(book.model, side), getattr(book.model.geometry, side)
            nominal = getattr(shape, key)
            settable = key == "hook_length" or key in type(end.parameters).model_fields
            if end.style.holds_load and nominal is not None and settable:
                found.append(_input(asked, f"{key}_{side}", key, "length", float(nominal)))
        if not found:
            text = f"no end of this spring has a {key.replace('_', ' ')} of its own; leave it out"
            raise SpecError(error("no-such-end", f"tolerances.{key}", text))
        yield from found


def _input(
    asked: Tolerances,
    name: str,
    key: str,
    kind: str,
    nominal: float,
    off: float = 0.0,
    told: tuple[str, str] = ("", ""),
) -> Input:
    """Return what strays as far as it is asked to, or ``off`` to both sides as ``told`` by whom."""
    band: Band | None = getattr(asked, key)
    low, high = (-off, off) if band is None else band.of(nominal)
    source, known = told if band is None else (GIVEN, GIVEN)
    within = {"nominal": nominal, "low": low, "high": high}
    return Input(name=name, key=key, kind=kind, source=source, known=known, **within)
