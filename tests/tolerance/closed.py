"""The closed form alone, without a correction: what tests against formulas look at."""

from __future__ import annotations

from typing import Any

import numpy as np

from springgeo.specification.tolerances import Distribution
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.closed_form import Nominal
from springgeo.tolerance.corrected import Corrected
from springgeo.tolerance.inputs import Input
from springgeo.tolerance.response import Response
from springgeo.tolerance.strayed import Strayed
from springgeo.tolerance.truth import Answer, Asked

SPRING: dict[str, Any] = {
    "name": "valve return spring",
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 5, "initial_tension": 7},
    "ends": {"first": "machine-half-loop", "second": "machine-half-loop"},
    "service": {"loads": [15, 30]},
}


def points(nominal: Nominal, loads: tuple[float, ...] = (15.0, 30.0)) -> list[Asked]:
    """Return working points on the handbook's straight line."""
    k = float(nominal.made({}).k)
    return [
        Asked(n, F, nominal.L_0 + (F - nominal.F_i) / k, by_length=False, judged=True)
        for n, F in enumerate(loads, 1)
    ]


def uncorrected(
    book: Handbook,
    inputs: tuple[Input, ...],
    *,
    adjusts: str = "none",
    distribution: Distribution = "normal",
) -> tuple[Strayed, list[Answer]]:
    """Return springs answered by the closed form alone, and the answers that are their loads."""
    nominal = Nominal.of(book, hooks_rule=False)
    answers = tuple(Answer("load", p) for p in points(nominal))
    none = np.zeros((0, len(answers)))
    model = Corrected(nominal, answers, Response(np.ones(len(answers)), {}, none, none, 0), adjusts)
    return Strayed(model, inputs, distribution, 1), list(answers)
