"""The answer: a number and the steps behind it."""

from __future__ import annotations

from springgeo.explanation.lines import lines
from springgeo.explanation.steps import ExplainedStep
from springgeo.results.part import CAUTIONS, Document

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
        return "\n".join(lines(self))
