"""Every finite-element case, built through the public API from its geometry.

The reference: quadratic hexahedra swept along the centreline, two cases cross-checked with a
second solver (see the notes in ``fe_cases.json``).
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

import springgeo as sg
from tests.verification import Of

CASES = json.loads((Path(__file__).parent / "fe_cases.json").read_text())["cases"]


def spring_of(case: dict[str, Any]) -> sg.Spring:
    g, m = case["geometry"], case["material"]
    d, r, lead = g["wire_d"], g["R"], math.atan2(g["pitch"], 2 * math.pi * g["R"])
    height = g["r2"] * math.cos(lead) + g["leg_h"]
    end = {
        "style": "raised-hook",
        "bend_radius": g["r2"],
        "loop_radius": r,
        "hook_length": height + r - d,
    }
    return sg.Spring.from_dict(
        {
            "wire": {
                "material": "en-10270-1-sm",
                "diameter": d,
                "elastic_modulus": m["E"],
                "shear_modulus": m["G"],
            },
            "body": {
                "mean_diameter": g["D_mean"],
                "coils": g["Nb_turns_between_bend_starts"],
                "pitch": g["pitch"],
            },
            "ends": {"first": end, "second": end},
            "service": {"loads": [case["load"]["F"]]},
        }
    )


@pytest.fixture(params=CASES, ids=lambda c: c["id"])
def answer(request: pytest.FixtureRequest) -> tuple[dict[str, Any], sg.Summary]:
    return request.param, spring_of(request.param).summary()


def peak(summary: sg.Summary, region: str, kind: str, load: float) -> float:
    found = [p for p in summary.along_the_wire.peaks if (p.region, p.kind) == (region, kind)]
    return found[0].per_newton * load


def test_rate(answer: tuple[dict[str, Any], sg.Summary]) -> None:
    case, summary = answer
    rate = Of(summary.along_the_wire.rate, "rate along the wire, N/mm")
    assert rate == pytest.approx(case["rate"]["FE"], rel=1e-3)


@pytest.mark.parametrize(
    ("region", "kind", "name", "bound"),
    [
        ("body", "shear", "body_max_shear_tresca", 5e-4),
        ("A", "axial", "A_max_axial", 2e-3),
        ("B", "shear", "B_max_shear_tresca", 2e-3),
        ("B", "von_mises", "B_von_mises", 5e-3),
    ],
)
def test_peak(
    answer: tuple[dict[str, Any], sg.Summary], region: str, kind: str, name: str, bound: float
) -> None:
    case, summary = answer
    ours = peak(summary, region, kind, case["load"]["F"])
    assert ours == pytest.approx(case["stress"][name]["value"], rel=bound)


def test_handbook_differs_as_measured(answer: tuple[dict[str, Any], sg.Summary]) -> None:
    # the handbook's own figures as recorded with the reference
    case, summary = answer
    point = summary.points[0]
    book = case["handbook"]
    for what, value, wanted in (
        ("body shear, MPa, handbook", point.body_shear, book["body_KB"]),
        ("hook bending, MPa, handbook", point.hook_bending, book["A"]),
        ("hook torsion, MPa, handbook", point.hook_torsion, book["B"]),
        ("rate, N/mm, handbook", summary.rate, case["rate"]["handbook_Nb_plus_GE"]),
    ):
        assert Of(value, what) == pytest.approx(wanted, rel=1e-9)
