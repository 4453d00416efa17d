"""A spring between parts of a test's own, and what its fit says."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from springgeo import Spring
from springgeo.fit import FitReport, Mating, fit
from tests.fit.conftest import specification

PIN = {"pin": {"diameter": 7, "length": 20}}


def report(style: str = "machine-half-loop", states: int = 1, **extra: Any) -> FitReport:
    mating = Mating.model_validate(extra.pop("mating", {"first": PIN}))
    return fit(made(style, json.dumps(extra)), mating, states=states)


@cache
def made(style: str, extra: str) -> Spring:
    """Return a spring that many tests put between parts of their own."""
    return Spring.from_dict(specification(style, **json.loads(extra)))


def codes(found: FitReport) -> set[str]:
    return {f.code for f in found.findings}
