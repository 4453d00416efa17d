"""The bending table, bent again: the same centreline, for every style and both hands."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo import Spring
from springgeo.ends import registry
from springgeo.making.bending import bending_table, first_plane, replay


def spring(style: str, hand: str, index: float = 8.0, d: float = 1.0) -> Spring:
    return Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": d},
            "body": {"mean_diameter": index * d, "coils": 10.3, "hand": hand},
            "ends": {"first": {"style": style}, "second": {"style": style}},
        }
    )


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("style", sorted(registry.styles()))
def test_the_table_bends_the_centreline(style: str, hand: str) -> None:
    path = spring(style, hand).centreline
    rows = bending_table(path)
    at = np.zeros(1)
    places, directions = replay(rows, path.tangent(at)[0], first_plane(path))
    s = np.cumsum([row.feed for row in rows])
    assert s[-1] == pytest.approx(path.length, rel=1e-12)
    assert np.abs(places + path.point(at) - path.point(s)).max() < 1e-6
    off = np.abs(directions - path.tangent(s))
    # between the two screws of a step the direction is of second order only, after them of fourth
    assert off[-1].max() < 1e-7
    assert off.max() < 1e-4


def test_a_helix_is_one_row_and_states_its_own_numbers() -> None:
    path = spring("plain", "right").centreline
    (row,) = bending_table(path)
    lead = np.arctan(path.pieces[0].segment.pitch / (2 * np.pi * 4.0))
    # radius of curvature and torsion of a helix: R/cos², sin cos/R (any differential geometry)
    assert row.radius == pytest.approx(4.0 / np.cos(lead) ** 2, rel=1e-9)
    assert row.twist == pytest.approx(path.length * np.sin(lead) * np.cos(lead) / 4.0, rel=1e-9)


def test_the_left_hand_twists_the_other_way() -> None:
    (right,), (left,) = (bending_table(spring("plain", h).centreline) for h in ("right", "left"))
    assert left.twist == pytest.approx(-right.twist, rel=1e-9)
    assert left.bend == pytest.approx(right.bend, rel=1e-9)


def test_a_finer_tolerance_takes_more_rows() -> None:
    path = spring("machine-half-loop", "right").centreline
    assert len(bending_table(path, 1e-8)) > len(bending_table(path, 1e-3))
