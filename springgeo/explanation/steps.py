"""A step of an explanation, and what was put into it."""

from __future__ import annotations

from springgeo.results.facts import Facts


class Operand(Facts):
    """What was put into a step: a name of its formula.

    ``step``: the number of the step that found it, None for a figure of the formula itself.
    ``low``, ``high``: between which the formula holds, where it says so; ``open_low``: the lower
    end itself is outside.
    """

    name: str
    words: str
    value: float
    unit: str
    step: int | None
    low: float | None = None
    high: float | None = None
    open_low: bool = False
    inside: bool | None = None


class ExplainedStep(Facts):
    """One step: how a value was found from others.

    ``expression`` is the formula as Python would compute it from the operands by name, ``formula``
    the same as it is read; None where the value was given, looked up, read off, or solved for.
    """

    number: int
    kind: str
    symbol: str
    title: str
    value: float
    unit: str
    expression: str | None
    formula: str | None
    operands: tuple[Operand, ...]
    source: str
    known: str
    inside: bool | None
    notes: tuple[str, ...]
