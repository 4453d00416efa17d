"""Ends with corners and small radii against 3-D finite elements of the whole spring.

The reference: 20-node hexahedra swept along the centreline (the notes in
``fe_other_ends.json``); the mesh is good to some 0.3 %.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import springgeo as sg
from tests.verification import Of

CASES = json.loads((Path(__file__).parent / "fe_other_ends.json").read_text())["cases"]


@pytest.fixture(params=CASES, ids=lambda c: c["name"])
def answer(request: pytest.FixtureRequest) -> tuple[dict[str, Any], sg.Summary]:
    return request.param, sg.Spring.from_dict(request.param["spec"]).summary()


@pytest.mark.parametrize(
    ("name", "kind", "body"),
    [
        ("body_shear", "shear", True),
        ("hook_axial", "axial", False),
        ("hook_shear", "shear", False),
        ("von_mises", "von_mises", None),
    ],
)
def test_greatest_stress_and_its_piece(
    answer: tuple[dict[str, Any], sg.Summary], name: str, kind: str, body: bool | None
) -> None:
    case, summary = answer
    fe, load = case["fe"][name], case["spec"]["service"]["loads"][0]
    found = max(
        (
            p
            for p in summary.along_the_wire.peaks
            if p.kind == kind and body in (None, p.region == "body")
        ),
        key=lambda p: p.per_newton,
    )
    assert found.per_newton * load == pytest.approx(fe["value"], rel=3e-3)
    # both ends are alike: the piece without its side
    assert found.label.split(".")[-1] == fe["piece"].split(".")[-1]


def test_rate(answer: tuple[dict[str, Any], sg.Summary]) -> None:
    case, summary = answer
    rate = Of(summary.along_the_wire.rate, "rate along the wire, N/mm")
    assert rate == pytest.approx(case["fe"]["rate"]["value"], rel=1e-3)
