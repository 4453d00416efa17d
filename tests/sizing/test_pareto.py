from __future__ import annotations

import numpy as np
import pytest

from springgeo.sizing.search.pareto import front, not_beaten


@pytest.mark.parametrize("k", [1, 2, 3, 4])
def test_front_is_what_nobody_beats(k: int) -> None:
    points = np.round(np.random.default_rng(k).uniform(1, 2, (300, k)), 2)
    beaten = [any((q <= p).all() and (q < p).any() for q in points) for p in points]
    best = {tuple(p) for p, b in zip(points, beaten, strict=True) if not b}
    found = [tuple(points[i]) for i in front(points)]
    assert set(found) == best
    assert len(found) == len(best)


def test_not_beaten_by_a_share() -> None:
    points = np.array([[1.0, 1.0], [1.02, 1.02], [1.04, 1.04]])
    assert not_beaten(points, points[:1], 0.03).tolist() == [True, True, False]
