"""The answer: a number and the steps behind it."""

from __future__ import annotations

import json

from springgeo.explanation.lines import lines
from springgeo.explanation.steps import ExplainedStep
from springgeo.results.part import CAUTIONS, Part

SCHEMA = "springgeo-explanation/1"


class Explanation(Part):
    """How a number of the summary was found; the first step is its own."""

    schema_version: str = SCHEMA
    quantity: str
    title: str
    value: float
    unit: str
    steps: tuple[ExplainedStep, ...]
    cautions: tuple[str, ...] = CAUTIONS

    def json_text(self) -> str:
        """Return the explanation as JSON, ASCII only, the same for the same spring."""
        return json.dumps(self.model_dump(mode="json"), indent=2, allow_nan=False)

    def __str__(self) -> str:
        return "\n".join(lines(self))
