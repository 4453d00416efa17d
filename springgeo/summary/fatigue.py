"""The cycle between the lowest and the highest load: infinite life and life class.

Infinite life: Zimmerli's data with the Gerber and the Goodman line (Shigley 10-28 ff., Example
10-7). Life class: the repeated-load table (Shigley Table 10-8), allowable over maximum stress.
Yielding of the body: the load line that starts at the initial tension.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from springgeo.mechanics import endurance, fatigue
from springgeo.results.summary import Fatigue, FatiguePlace
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import PLACES, AlongWire

# Zimmerli's data hold for steel wire below this diameter, mm: Shigley sec. 10-9
ZIMMERLI_DIAMETER = 10.0

Stress = Callable[[float], float | None]


def fatigue_facts(book: Handbook, wire: AlongWire) -> Fatigue | None:
    """Return the answer, or None for a static duty or a specification without loads."""
    service = book.model.spec.service
    if service.duty == "static" or not book.points:
        return None
    low, high = book.points[0].load, book.points[-1].load
    if len(book.points) == 1:
        low = min(book.initial_tension.force, high)
    shares, life = _life_class(book)
    by_book: dict[str, Stress] = {
        "body_shear": book.body_shear,
        "hook_bending_a": lambda f: _worst(book.hook_bending(f, s) for s in "ab"),
        "hook_torsion_b": lambda f: _worst(book.hook_torsion(f, s) for s in "ab"),
    }
    along: dict[str, Stress] = {
        name: (lambda f, r=region: wire.stress(r, f))  # type: ignore[misc]
        for region, (name, _) in PLACES.items()
    }
    answers = [
        {
            name: place
            for name, stress in way.items()
            if (place := _place(book, name, stress, low, high, shares)) is not None
        }
        for way in (by_book, along)
    ]
    governing, margin = _governing(answers, service.duty)
    return Fatigue(
        load_low=low,
        load_high=high,
        cycles=service.cycles,
        life_class=life,
        method=_method(book),
        handbook=answers[0],
        along_the_wire=answers[1],
        governing=governing,
        margin=margin,
    )


def _worst(values: object) -> float | None:
    present = [v for v in values if v is not None]  # type: ignore[attr-defined]
    return max(present, default=None)


def _place(
    book: Handbook,
    name: str,
    stress: Stress,
    low: float,
    high: float,
    shares: dict[str, float] | None,
) -> FatiguePlace | None:
    s_low, s_high = stress(low), stress(high)
    if s_low is None or s_high is None:
        return None
    s_a, s_m = float(fatigue.alternating(s_high, s_low)), float(fatigue.mean(s_high, s_low))
    tensile = book.material.tensile_strength
    strength = tensile if name == "hook_bending_a" else float(endurance.S_su(tensile))
    gerber = goodman = s_e = None
    if zimmerli_applies(book):
        data = endurance.zimmerli(book.model.spec.service.peened)
        shear = float(endurance.S_su(tensile))
        s_e, straight = (
            float(line(data[0], data[1], shear))
            for line in (endurance.S_e_gerber, endurance.S_e_goodman)
        )
        if name == "hook_bending_a":
            s_e, straight = (float(endurance.S_e_bending(x)) for x in (s_e, straight))
        if s_a > 0:
            gerber = float(fatigue.n_f_gerber(s_a, s_m, s_e, strength))
            goodman = float(fatigue.n_f_goodman(s_a, s_m, straight, strength))
    return FatiguePlace(
        alternating=s_a,
        mean=s_m,
        endurance_gerber=s_e,
        gerber=gerber,
        goodman=goodman,
        yielding=_yielding(book, s_a, s_m, stress) if name == "body_shear" else None,
        life_table=shares[name] * tensile / s_high if shares and s_high > 0 else None,
    )


def _yielding(book: Handbook, s_a: float, s_m: float, stress: Stress) -> float | None:
    start = stress(book.initial_tension.force)
    if start is None or s_a <= 0 or s_m <= start:
        return None
    slope = float(fatigue.load_line_slope(s_a, s_m, start))
    limit = float(fatigue.S_sa_y(slope, book.allowable.body_shear or math.nan, start))
    return float(fatigue.n_y(limit, s_a))


def zimmerli_applies(book: Handbook) -> bool:
    """Return whether Zimmerli's data cover this wire: steel below 10 mm."""
    return bool(book.model.material.is_steel) and book.model.body.diameter < ZIMMERLI_DIAMETER


def _life_class(book: Handbook) -> tuple[dict[str, float] | None, float | None]:
    """Return the table's fractions for the life asked for, and the life class used."""
    table, cycles = book.model.material.cyclic_allowables, book.model.spec.service.cycles
    if not table or cycles is None:
        return None, None
    enough = [life for life in sorted(table) if life >= cycles]
    if not enough:
        return None, None
    body, bending, torsion = table[enough[0]]
    return ({"body_shear": body, "hook_bending_a": bending, "hook_torsion_b": torsion}, enough[0])


def _governing(answers: list[dict[str, FatiguePlace]], duty: str) -> tuple[str, float | None]:
    """Return the place with the least factor, and that factor, over both methods."""
    factors: dict[tuple[str, str], float] = {}
    for way, places in zip(("handbook", "along the wire"), answers, strict=True):
        for name, place in places.items():
            factor = (
                place.life_table
                if duty == "cyclic" and place.life_table is not None
                else (place.goodman)
            )
            if factor is not None:
                factors[name, way] = factor
    if not factors:
        return "none", None
    name, way = min(factors, key=lambda k: factors[k])
    return f"{name} ({way})", factors[name, way]


def _method(book: Handbook) -> str:
    words = []
    if zimmerli_applies(book):
        words.append("infinite life: Zimmerli with Gerber and Goodman (Shigley 10-28, 10-29)")
    if book.model.material.cyclic_allowables and book.model.spec.service.cycles is not None:
        words.append(
            "life class: repeated-load table, R = 0, on the highest stress (Shigley Table 10-8)"
        )
    return "; ".join(words) or "no published fatigue data for this wire: test, or ask the maker"
