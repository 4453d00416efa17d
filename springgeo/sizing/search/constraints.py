"""What a named constraint is, and what it may look at.

A slack of 0 just passes; -0.1 misses by a tenth of the limit, 0.1 has a tenth to spare.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from springgeo.mechanics.value import Array
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.need import Line
from springgeo.sizing.job.wires import Wires
from springgeo.sizing.search.closed_form import Designs, Proportions


@dataclass(frozen=True)
class Block:
    """Everything a rule may look at: job, line, wires (n, 1), indices (m,), designs (n, m)."""

    job: Job
    line: Line
    wires: Wires
    index: Proportions
    made: Designs


Slack = Callable[[Block], Array]
Limit = Callable[[Job], float | None]


@dataclass(frozen=True)
class Rule:
    """A constraint: its name, what it asks in words, and the field of the job that sets it.

    ``limit`` is the number of the job (or of the trade) it compares with, None where there is
    none to compare with; a job for which it gives None is free of the rule. ``raise_to`` says
    whether a higher limit lets more pass; ``narrow`` that what passes may lie wholly between two
    neighbours that do not.
    """

    name: str
    words: str
    field: str
    slack: Slack
    limit: Limit | None = None
    raise_to: bool = False
    unit: str = ""
    applies: Callable[[Job], bool] = lambda _job: True
    narrow: bool = False


def at_most(
    name: str, words: str, field: str, unit: str, value: Callable[[Block], Array], limit: Limit
) -> Rule:
    """Return the rule that a value must not exceed a limit: slack 1 - value/limit."""

    def slack(b: Block) -> Array:
        return 1.0 - value(b) * (1.0 / _number(limit(b.job)))

    return Rule(name, words, field, slack, limit, True, unit, lambda j: limit(j) is not None)


def at_least(
    name: str, words: str, field: str, unit: str, value: Callable[[Block], Array], limit: Limit
) -> Rule:
    """Return the rule that a value must reach a limit: slack value/limit - 1."""

    def slack(b: Block) -> Array:
        return value(b) * (1.0 / _number(limit(b.job))) - 1.0

    return Rule(name, words, field, slack, limit, False, unit, lambda j: limit(j) is not None)


def _number(limit: float | None) -> float:
    assert limit is not None  # the rule would not apply
    return limit
