"""From a number that remembers to the steps behind it, each told once."""

from __future__ import annotations

from dataclasses import replace

from springgeo.explanation.leaves import Leaf
from springgeo.explanation.model import Explanation
from springgeo.explanation.quantities import UNITS
from springgeo.explanation.steps import ExplainedStep, Operand
from springgeo.worked.number import Step, Worked
from springgeo.worked.written import Plain, Python


def explained(leaf: Leaf) -> Explanation:
    """Return the chain behind a number of a recorded summary."""
    first = first_step(leaf)
    told = _Told()
    told.add(first, first.symbol, first.title)
    return Explanation(
        quantity=leaf.path,
        title=leaf.about.title + _where(leaf),
        value=float(leaf.value),
        unit=UNITS[leaf.about.kind],
        steps=tuple(sorted(told.steps, key=lambda s: s.number)),
    )


def first_step(leaf: Leaf) -> Step:
    """Return the step that found a number: its own, or what the table of quantities says."""
    if isinstance(leaf.value, Worked):
        step = leaf.value.step
        title, symbol = step.title or leaf.about.title, step.symbol or leaf.field
        return replace(step, title=title, symbol=symbol)
    source, known = _beside(leaf)
    return Step(
        "given" if leaf.about.method.startswith("the specification") else "read off",
        float(leaf.value),
        symbol=leaf.field,
        title=leaf.about.title,
        unit=UNITS[leaf.about.kind],
        source=source or leaf.about.method,
        known=known or "own method",
        notes=(leaf.about.method,) if source else (),
    )


def _where(leaf: Leaf) -> str:
    """Return the place and the method that a least margin, or a travel stop, is of."""
    place, way = (getattr(leaf.owner, name, None) for name in ("place", "way"))
    if place is None or way is None or leaf.field not in ("margin", *_STOP):
        return ""
    there = ", as mounted" if getattr(leaf.owner, "as_mounted", False) else ""
    return f" ({place.words}, {way}{there})"


def _beside(leaf: Leaf) -> tuple[str, str]:
    """Return source and confidence where the result itself holds them."""
    stem = leaf.field.removesuffix("percent")
    for name in ("", stem):
        source = getattr(leaf.owner, f"{name}source", "")
        known = getattr(leaf.owner, f"{name}known", "")
        if known:
            return str(source), str(known)
    return "", ""


# what tells of a pull's first limit
_STOP = ("travel_stop", "travel_stop_load")


class _Told:
    """Steps told so far, numbered in the order in which they are met."""

    def __init__(self) -> None:
        self.numbers: dict[tuple[object, ...], int] = {}
        self.steps: list[ExplainedStep] = []

    def add(self, step: Step, name: str, words: str) -> int:
        """Tell a step that was put in under a name; return its number."""
        if (key := _key(step)) in self.numbers:
            return self.numbers[key]
        number = len(self.numbers) + 1
        self.numbers[key] = number
        full = step.full()
        # those put in are numbered before what lies behind them
        operands = tuple(self._operand(full, n, x) for n, x in full.operands.items())
        self.steps.append(
            ExplainedStep(
                number=number,
                kind=full.kind,
                symbol=full.symbol or name,
                title=full.title or words or "sums and ratios of what follows",
                value=float(full.value),
                unit=full.unit,
                expression=None if full.expression is None else Python().write(full.expression),
                formula=None if full.expression is None else Plain().write(full.expression),
                operands=operands,
                source=full.source,
                known=full.known,
                inside=full.inside,
                notes=full.notes,
            )
        )
        return number

    def _operand(self, step: Step, name: str, x: float) -> Operand:
        about = step.arguments.get(name)
        own = x.step if isinstance(x, Worked) else None
        stated = "" if about is None else about.words
        words = stated if own is None else own.title or stated
        # sums and ratios do not say their unit
        unit = "" if about is None else about.unit
        if own is not None and (own.unit or own.kind != "arithmetic"):
            unit = own.unit
        ranged = about is not None and (about.low is not None or about.high is not None)
        return Operand(
            name=name,
            words=words,
            value=float(x),
            unit=unit,
            step=None if own is None else self.add(own, name, words),
            low=None if about is None else about.low,
            high=None if about is None else about.high,
            open_low=about is not None and about.open_low,
            inside=about.holds(x) if ranged and about is not None else None,
        )


def _key(step: Step) -> tuple[object, ...]:
    """Return what two steps share that say the same."""
    behind = tuple(
        (n, x.step.symbol, x.step.source, float(x)) if isinstance(x, Worked) else (n, x)
        for n, x in step.operands.items()
    )
    return step.symbol, step.title, step.value, step.source, step.expression, behind
