"""Readings that are a spring's own lead back to its modulus and its initial tension."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from springgeo.measure import Readings, measure
from tests.springs import made

SPRING: dict[str, Any] = {
    "wire": {"material": "astm-a228", "diameter": 1.0},
    "body": {"mean_diameter": 8, "coils": 5, "initial_tension": 5},
    "service": {"loads": [40]},
}


@pytest.mark.parametrize("style", ["full-loop-at-side", "extended-hook"])
def test_a_spring_whose_curve_is_no_line_is_found(style: str) -> None:
    """Pulled at its side a spring is far stiffer than at rest: steel was told to have 149 GPa."""
    spring = made(SPRING | {"ends": {"first": style, "second": style}})
    curve, s = spring.load_curve, spring.summary()
    lengths = np.linspace(curve.length(15), curve.length(40), 6)
    found = measure(
        Readings.model_validate(
            {
                "wire_diameter": 1.0,
                "outer_diameter": 9.0,
                "coils": s.geometry.body_coils,
                "free_length": s.geometry.free_length,
                "pulls": [{"length": float(x), "load": curve.load(x)} for x in lengths],
                "hooks": [style, style],
            }
        )
    )
    assert found.shear_modulus.value == pytest.approx(s.material.shear_modulus, rel=5e-4)
    assert found.tension.value == pytest.approx(5, rel=1e-3)
    assert found.specification["body"]["initial_tension"] == pytest.approx(5, rel=1e-3)
    assert "astm-a228" in [x.material for x in found.likely]


def test_a_sound_spring_that_bends_its_line_is_not_said_to_be_worn() -> None:
    """Loops at the side make a curve of the line; read finely, that was called scatter and rub."""
    spring = made(SPRING | {"ends": {"first": "full-loop-at-side", "second": "full-loop-at-side"}})
    curve, g = spring.load_curve, spring.summary().geometry
    lengths = np.linspace(curve.length(24), curve.length(40), 6)
    found = measure(
        Readings.model_validate(
            {
                "wire_diameter": 1.0,
                "outer_diameter": 9.0,
                "coils": g.body_coils,
                "free_length": g.free_length,
                "pulls": [{"length": float(x), "load": curve.load(x)} for x in lengths],
                "length_uncertainty": 0.001,
                "load_uncertainty": 0.001,
                "hooks": ["full-loop-at-side", "full-loop-at-side"],
            }
        )
    )
    assert not {"line-bent", "scatter"} & {f.code for f in found.findings}
    assert found.line.scatter < 1
