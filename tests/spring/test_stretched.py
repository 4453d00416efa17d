"""Few coils drawn far apart: what the checks say of wire that faces no other wire."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from springgeo.api import Spring
from springgeo.checks.centreline import centreline_checks
from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.spring.model import SpringModel
from tests.gate import thinned


def spring(a: str, b: str, index: float, coils: float, hand: str = "right") -> Spring:
    return Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": "2 mm"},
            "body": {"index": index, "coils": coils, "hand": hand, "initial_tension": "5 N"},
            "ends": {"first": {"style": a}, "second": {"style": b}},
        }
    )


def nearest_coils(model: SpringModel) -> float:
    """Return a bound below the distance of body wire more than half a turn apart, mm.

    From points: those ``h`` mm apart see at most ``h²/(4 · distance)`` more than the true distance.
    """
    g = model.geometry
    piece, start = next((p, s) for p, s in g.path if p.role == "body")
    turn = piece.segment.length / g.turns
    s = np.linspace(start, start + piece.segment.length, 400)
    point = g.path.point(s)
    gap = np.linalg.norm(point[:, None] - point, axis=2)
    least = float(gap[np.abs(s[:, None] - s) > 0.6 * turn].min())
    return least - (s[1] - s[0]) ** 2 / (4 * least)


def require_distance(model: SpringModel) -> None:
    """Assert that the coils are as far apart as the checks say; steep wire has no neighbour."""
    found = {c.name: c for c in centreline_checks(model)}
    if "coil-distance" not in found:
        assert nearest_coils(model) > 3 * model.body.wire_diameter
        return
    assert found["coil-distance"].ok
    assert 2 * found["coil-distance"].value >= nearest_coils(model)


def test_coils_22_mm_apart_do_not_touch() -> None:
    pulled = spring("plain", "plain", 8, 3)
    model = replace(pulled.model, geometry=pulled.at(length=70.0).geometry)
    require_distance(model)


@pytest.mark.parametrize(
    ("style", "hand", "count"),
    [
        *thinned(2, list(registry.styles().values()), ["left", "right"], [1]),
        *(
            pytest.param(style, hand, 4, marks=pytest.mark.slow)
            for style in registry.styles().values()
            for hand in ("left", "right")
        ),
    ],
)
def test_coils_keep_their_distance_in_every_state(style, hand: str, count: int) -> None:
    draw = random.Random(f"stretched {style.name} {hand}")
    for _ in range(6):
        if not count:
            return
        index, coils = draw.choice([4.0, 6.0, 8.0, 16.0]), draw.uniform(2.0, 5.0)
        try:
            free = spring(*draw.sample([style.name, "plain"], 2), index, coils, hand)
        except SpecError:  # the style's own limits are not what is asked here
            continue
        count -= 1
        for factor in (1.1, 1.6, 2.5):
            try:
                state = free.at(length=factor * free.free_length)
            except SpecError:
                continue
            model = replace(free.model, geometry=state.geometry)
            require_distance(model)
