"""The answer: a number and the steps behind it."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.explanation.lines import step_lines, value
from springgeo.explanation.steps import ExplainedStep
from springgeo.results.facts import CAUTIONS, Document
from springgeo.text.shown import PLAIN, Shown

SCHEMA = "springgeo-explanation/1"


class Explanation(Document):
    """How a number of the summary was found; the first step is its own."""

    schema_version: str = SCHEMA
    quantity: str
    title: str
    value: float
    unit: str
    steps: tuple[ExplainedStep, ...]
    cautions: tuple[str, ...] = CAUTIONS

    def __str__(self) -> str:
        return "\n".join(self.lines())

    def lines(self, shown: Shown = PLAIN) -> Iterator[str]:
        """Yield the number, then every step behind it, for a terminal."""
        yield f"{self.quantity} = {value(self.value, self.unit, shown)}: {self.title}"
        for step in self.steps:
            yield from step_lines(step, shown)
