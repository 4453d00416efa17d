"""A piece of wire far shorter than it is thick changes nothing."""

from __future__ import annotations

from typing import Any

import pytest

from springgeo import Spring
from tests.equilibrium.rods import curve_of, spring

SPRING: dict[str, Any] = {
    "name": "short piece",
    "wire": {"material": "en-10270-1-sm", "diameter": 1.0},
    "body": {
        "mean_diameter": 4.167517521615302,
        "coils": 8.993937242619632,
        "hand": "left",
        "pitch": 2.6577074945117225,
    },
    "ends": {
        "first": {
            "style": "raised-hook",
            "bend_radius": 1.0138995046262418,
            "loop_radius": 2.083099050871124,
            "hook_length": 12.502552564845905,
        },
        "second": {"style": "reduced-full-loop", "bend_radius": 1.1703518383000797},
    },
}


@pytest.mark.parametrize("load", [1.0, 6.0, 34.31])
def test_a_piece_of_no_length(load: float) -> None:
    """Sixty-four millionths of a wire diameter, beside loops a hair narrower."""
    found = []
    for less in (0.0, 0.02, 0.04):
        hook = SPRING["ends"]["first"] | {"loop_radius": 2.083099050871124 - less}
        made = Spring.from_dict(SPRING | {"ends": SPRING["ends"] | {"first": hook}})
        cells = made.load_curve.balance.rod.drawn.length
        assert cells.min() < (1e-4 if less == 0.0 else 4e-3)
        at = made.load_curve.solve(load)
        found.append((at.extension, at.compliance))
    for there, near, further in zip(*found, strict=True):
        assert there == pytest.approx(2 * near - further, rel=2e-5)


@pytest.mark.parametrize("style", ["reduced-half-loop", "long-square-end-hook"])
def test_coils_a_hair_above_a_whole_number(style: str) -> None:
    """Rates, which rounding errors of the body's last cell once changed by 4e-4."""
    found = []
    for coils in (9.0, 9.0 + 1e-7):
        curve = curve_of(spring(style, coils=coils))
        found.append((curve.rate(0.0), curve.rate(2 * curve.initial_tension)))
    assert found[1] == pytest.approx(found[0], rel=2e-6)
