"""Chains of poses: the last of running products, and the same by pairs."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.curve.motion import chained, joined, rotation


@pytest.mark.parametrize("count", [[1], [7], [1, 2, 3, 16, 5], [1, 1]])
def test_where_chains_lead(count: list[int]) -> None:
    """Products of 4 by 4 matrices, one after the other, by numpy alone."""
    rng = np.random.default_rng(sum(count))
    n = sum(count)
    R, p = rotation(rng.normal(size=(n, 3))), rng.normal(size=(n, 3))
    pose = np.tile(np.eye(4), (n, 1, 1))
    pose[:, :3, :3], pose[:, :3, 3] = R, p
    last = np.cumsum(count)
    ends = [
        np.linalg.multi_dot([np.eye(4), *pose[b - k : b], np.eye(4)])
        for b, k in zip(last, count, strict=True)
    ]
    for turned, moved in (
        joined(R, p, np.array(count)),
        tuple(x[last - 1] for x in chained(R, p, np.concatenate([np.arange(k) for k in count]))),
    ):
        assert turned == pytest.approx(np.array([x[:3, :3] for x in ends]), abs=1e-13)
        assert moved == pytest.approx(np.array([x[:3, 3] for x in ends]), abs=1e-12)
