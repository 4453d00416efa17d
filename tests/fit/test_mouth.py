"""The mouth against a flood fill: what disc finds its way from the seat to the open."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.ndimage import label
from scipy.spatial import cKDTree

from springgeo import Spring
from springgeo.curve.frame import Array
from springgeo.ends import registry
from springgeo.fit import end_frame, mouth
from springgeo.spring.geometry import Geometry

from .conftest import specification

STEP = 0.04


def outlines(g: Geometry) -> tuple[Array, Array]:
    """Points of the free branch's flat sections, and of all other wire's centreline."""
    frame = end_frame(g, "first")
    assert frame is not None
    s = np.linspace(0.0, min(g.path.length, frame.s + 80.0), 4000)
    p, t = frame.to_local(g.path.point(s)), g.path.tangent(s) @ frame.axes
    outer = s < frame.s
    flank = np.column_stack([-t[:, 2], t[:, 0]]) * g.wire_diameter / 2
    edge = np.concatenate([p[outer][:, ::2] + k * flank[outer] for k in np.linspace(-1, 1, 21)])
    return edge, p[~outer][:, ::2]


class Room:
    """Distances of the places in the loop's plane from the wire's outline."""

    def __init__(self, g: Geometry) -> None:
        edge, rest = outlines(g)
        self.x, self.z = np.arange(-12, 12, STEP), np.arange(-7, edge[:, 1].max() + 7, STEP)
        at = np.stack(np.meshgrid(self.x, self.z, indexing="ij"), axis=-1)
        self.room = np.minimum(
            cKDTree(edge).query(at)[0], cKDTree(rest).query(at)[0] - g.wire_diameter / 2
        )

    def lets_out(self, width: float) -> bool:
        names, _ = label(self.room >= width / 2)
        seat = names[np.argmin(np.abs(self.x)), np.argmin(np.abs(self.z - width / 2 - 2 * STEP))]
        return bool(seat != 0 and seat == names[0, 0])


@pytest.mark.parametrize(
    ("style", "end"),
    [
        ("machine-half-loop", {"opening": 1.5}),
        ("machine-half-loop", {"opening": 3.0}),
        ("short-twisted-loop", {}),
        ("full-twisted-loop", {}),
        ("full-twisted-loop", {"opening": 1.5}),
        ("raised-hook", {}),
        ("extended-hook", {}),
        ("v-hook", {"opening": 2.0}),
        ("long-square-end-hook", {"opening": 4.0}),
        ("double-twisted-full-loop", {}),
    ],
)
def test_widest_disc_that_comes_out(style: str, end: dict[str, float]) -> None:
    if style not in registry.styles():
        pytest.skip(f"{style} is not installed")
    g = Spring.from_dict(specification(style, end=end)).model.geometry
    frame = end_frame(g, "first")
    assert frame is not None
    room = Room(g)
    low, high = 0.0, min(2 * frame.inside, 12.0)
    while high - low > STEP / 2:
        middle = (low + high) / 2
        low, high = (middle, high) if room.lets_out(middle) else (low, middle)
    # a pin that fits the loop is never wider than it
    ours = min(mouth(g, frame, "first").width, 2 * frame.inside)
    assert ours == pytest.approx(low, abs=2.5 * STEP)
