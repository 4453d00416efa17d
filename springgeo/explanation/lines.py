"""An explanation as lines for a terminal, in the reader's units."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from springgeo.explanation.leaves import Leaf
from springgeo.explanation.quantities import KINDS, UNITS
from springgeo.explanation.steps import ExplainedStep, Operand
from springgeo.text.quantity import Quantity
from springgeo.text.shown import DECIMAL, PLAIN, Shown
from springgeo.worked import expression as e
from springgeo.worked.number import Worked
from springgeo.worked.reading import parsed
from springgeo.worked.written import Plain

_DIGITS = 6
# inside units in inches, pounds force and pounds per square inch
_INCH = {"mm": 25.4, "N": 4.4482216152605, "MPa": 0.00689475729317}
_INCH |= {"N/mm": _INCH["N"] / _INCH["mm"], "N mm": _INCH["N"] * _INCH["mm"], "": 1.0}
# pounds, so that formulas of mass hold in them; and how each of these is written
_POUND = 0.45359237
_MASSES = {
    "kg": (_POUND, "lb"),
    "kg/mm^3": (_POUND / _INCH["mm"] ** 3, "lb/in^3"),
    "kg mm/(N s^2)": (_POUND * _INCH["mm"] / _INCH["N"], "lb in/(lbf s^2)"),
}
_INCH |= {unit: factor for unit, (factor, _) in _MASSES.items()} | {"Hz": 1.0}
_OF_UNIT = {unit: kind for kind, unit in UNITS.items()} | KINDS


def listed(every: Iterable[Leaf], shown: Shown = PLAIN) -> Iterator[str]:
    """Yield all numbers of a summary with their values and how they were found."""
    for leaf in every:
        how = leaf.value.step.kind if isinstance(leaf.value, Worked) else "read off"
        number = shown.quantity(Quantity(leaf.about.kind, float(leaf.value), 5))
        yield f"{leaf.path} = {number}: {leaf.about.title} [{how}]"


def value(x: float, unit: str, shown: Shown, digits: int = _DIGITS) -> str:
    """Return a value with its unit; units that have no other form stand as they are."""
    # formulas are in kilograms or pounds: grams would be a thousand off, ounces sixteen
    if unit in _MASSES and shown.units == "inch":
        factor, unit = _MASSES[unit]
        x /= factor
    kind = None if unit == "kg" else _OF_UNIT.get(unit)
    if kind is None:
        sign = unit.replace("^3", "³").replace("^2", "²") if shown.typeset else unit
        return f"{x:.{digits}g}".replace(".", DECIMAL[shown.language]) + f" {sign}"
    if 0 < abs(x) < 1e-3 or abs(x) >= 1e6:
        sign = shown.unit(kind)
        return f"{shown.convert(kind, x):.{digits}g}{' ' if sign else ''}{sign}"
    return shown.quantity(Quantity(kind, x, digits))


def step_lines(step: ExplainedStep, shown: Shown) -> Iterator[str]:
    """Yield how a number was found: formula, values put in, operands, range, source."""
    head = f"[{step.number}] {step.symbol} = {value(step.value, step.unit, shown)}  {step.title}"
    known = f" ({step.known})" if step.known and step.known != "given" else ""
    if not step.operands and not step.notes:
        yield f"{head}; {step.kind}: {step.source}{known}"
        return
    yield head
    if step.formula is not None and step.expression is not None:
        yield f"      = {step.formula}"
        yield f"      = {filled(step, shown)}"
    else:
        yield f"      {step.kind}"
    if behind := ", ".join(_put_in(o, shown) for o in step.operands):
        yield f"      from {behind}"
    for o in step.operands:
        if o.inside is not None:
            yield f"      holds for {o.name} {_range(o)}: {'inside' if o.inside else 'OUTSIDE'}"
    yield from (f"      {note}" for note in step.notes if note)
    if step.source:
        yield f"      source: {step.source}{known}"


def filled(step: ExplainedStep, shown: Shown) -> str:
    """Return a step's formula with values and units put in."""
    assert step.expression is not None
    return Plain(" * ").write(parsed(step.expression), put_in(step, shown))


def put_in(step: ExplainedStep, shown: Shown, digits: int = _DIGITS) -> dict[str, str]:
    """Return what stands for each name of a step's formula.

    A formula with figures of its own unit stands in mm, N and MPa whatever the reader's units.
    """
    units = _units(step, shown)
    return {o.name: value(o.value, o.unit, units, digits) for o in step.operands}


def result(step: ExplainedStep, shown: Shown, digits: int = _DIGITS) -> str:
    """Return a step's value, in the units of its formula first where these are others."""
    there, here = (value(step.value, step.unit, s, digits) for s in (_units(step, shown), shown))
    return there if there == here else f"{there} = {here}"


def _units(step: ExplainedStep, shown: Shown) -> Shown:
    assert step.expression is not None
    if shown.units == "mm" or _in_any_unit(step, parsed(step.expression)):
        return shown
    return replace(shown, units="mm")


def _in_any_unit(step: ExplainedStep, node: e.Node) -> bool:
    if any(u not in _INCH for u in (step.unit, *(o.unit for o in step.operands))):
        return False
    try:
        again = e.value(node, {o.name: o.value / _INCH[o.unit] for o in step.operands})
    except (ArithmeticError, ValueError):
        return False
    return math.isclose(again, step.value / _INCH[step.unit], rel_tol=1e-6, abs_tol=1e-12)


def _put_in(o: Operand, shown: Shown) -> str:
    return f"{o.name} [{o.step}]" if o.step else f"{o.name} = {value(o.value, o.unit, shown)}"


def _range(o: Operand) -> str:
    if o.low is not None and o.high is not None:
        return f"{o.low:g} to {o.high:g}"
    if o.low is None:
        return f"up to {o.high:g}"
    return f"above {o.low:g}" if o.open_low else f"from {o.low:g} up"
