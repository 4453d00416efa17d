"""The reported nearest approach of hook wire against dense points in a scipy tree."""

from __future__ import annotations

import pytest

from springgeo.curve import hook_approach
from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from tests.gate import thinned

from .cases import body_end, random_case
from .measure import least_distance

HOOKS = [s for s in registry.styles().values() if s.holds_load and s.offered]


@pytest.mark.parametrize(("style", "seed"), thinned(2, HOOKS, range(100, 104)))
def test_same_as_dense_points(style: EndStyle, seed: int) -> None:
    g = random_case(style, seed).build()
    d = g.wire_diameter
    found = hook_approach(g.path, d)
    step = d / 40
    dense = least_distance(g.path, d, step)
    if found is None:
        assert dense > 2 * d - step
        return
    # the dense points can only see more than the truth, by at most step²/(4·distance) over two
    # tangents; 1e-6 d is what README promises of the surface, and what near-parallel wire needs
    assert found.distance <= dense + 1e-6 * d
    assert dense <= found.distance + 2 * step**2 / found.distance


@pytest.mark.parametrize("style", HOOKS, ids=lambda s: s.name)
@pytest.mark.parametrize("index", [5.0, 5.001, 6.0, 8.0, 12.0, 25.0])
@pytest.mark.parametrize("pitch", [None, 1.1, 5.0])
def test_something_is_guaranteed_from_index_five(
    style: EndStyle, index: float, pitch: float | None
) -> None:
    ranges = style.ranges(body_end(index, 1.0, pitch))
    assert ranges
    for name, (low, high) in ranges.items():
        assert 0 < low <= high, name
        assert name in style.parameters.model_fields
