"""The bend of a twisted loop lands on a line through the axis, tangent to it, wherever it can."""

from __future__ import annotations

import math

import numpy as np
import pytest

from springgeo import SpecError
from springgeo.ends.protocol import BodyEnd
from springgeo.ends.shared.plan_bend import plan_bend


def test_it_leaves_the_coil_and_meets_its_line() -> None:
    rng = np.random.default_rng(12)
    for _ in range(300):
        radius = float(rng.uniform(1.5, 12.5))
        end = BodyEnd(1.0, radius, float(rng.uniform(1.0, 0.6 * radius + 1.0)))
        r2, slope = float(rng.uniform(0.1, 0.45)) * radius, float(rng.uniform(-0.1, 0.8))
        arc, q, beta = plan_bend(end, r2, slope)
        first, last = np.zeros(1), np.array([arc.length])
        lead = end.lead
        np.testing.assert_allclose(arc.point(first)[0], [radius, 0, 0], atol=1e-12 * radius)
        np.testing.assert_allclose(
            arc.tangent(first)[0], [0, math.cos(lead), math.sin(lead)], atol=1e-12
        )
        np.testing.assert_allclose(arc.point(last)[0], q, atol=1e-11 * radius)
        # the line on from Q rises at the slope and crosses the axis
        t = arc.tangent(last)[0]
        assert t[2] == pytest.approx(math.sin(slope), abs=1e-11)
        assert q[0] * t[1] - q[1] * t[0] == pytest.approx(0.0, abs=1e-11 * radius)
        assert q[0] * t[0] + q[1] * t[1] < 0
        assert 0 < beta <= math.radians(80)


@pytest.mark.parametrize("share", [0.55, 0.8, 1.0, 3.0])
def test_a_bend_too_large_is_refused(share: float) -> None:
    with pytest.raises(SpecError, match="does not turn onto the axis"):
        plan_bend(BodyEnd(1.0, 5.0, 1.0), 5.0 * share, 0.0)
