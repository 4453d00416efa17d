"""The points of each end of the wire, in the local frame of its body end."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from springgeo.curve.frame import FLIP, Array, rotation_z
from springgeo.ends.protocol import BodyEnd
from springgeo.recovery.coiled.body import Body
from springgeo.recovery.end.fit import EndPoints

# coils of the body that an end's points include
_COILS = 1.3
# share of the points from which a part of them is no clutter
_MUCH = 0.05


def body_end(body: Body) -> BodyEnd:
    """Return the end of the body as a style is given it."""
    t = body.tube
    return BodyEnd(2 * t.wire_radius, t.coil_radius, t.pitch)


def end_points(
    body: Body,
    points: Array,
    second: bool,
    *,
    together: bool = True,
    noise: float | None = None,
) -> EndPoints:
    """Return the points of the first or the second end.

    Those of the last coils, and whatever hangs ``together`` with them beyond. ``noise`` is
    the points' standard error, mm, where it is not that of the body's.
    """
    tube = body.tube
    x = tube.local(points)
    # the helix's frame at the end of the body: its last point on +x at height 0
    t = body.high if second else body.low
    x = x @ rotation_z(t)
    x[:, 2] -= tube.pitch * t / (2 * math.pi)
    if not second:
        x = x @ FLIP.T
    near = x[:, 2] > -_COILS * tube.pitch - tube.wire_radius
    found = EndPoints(x[near], body_end(body), body.noise if noise is None else noise)
    return alone(found) if together else found


def alone(data: EndPoints) -> EndPoints:
    """Return the points of the wire alone: what lies about by itself would be fitted with it."""
    return replace(data, x=_together(data.x, data.wire))


def _together(x: Array, r: float) -> Array:
    """Return the points that have neighbours, and hang together with the coils over short gaps."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    if len(x) < 10:
        return x
    tree = cKDTree(x)
    looked = x[:: max(1, len(x) // 3000)]
    # the distance within which the surface has some eight points, where it was seen
    apart, _ = tree.query(looked, k=min(9, len(x)))
    reach = min(max(3 * float(np.median(apart[:, -1])), 0.5 * r), 1.5 * r)
    few = len(x) < 20000
    crowd = tree.query_ball_point(x, reach, return_length=True) if few else None
    if crowd is not None:
        keep = crowd >= max(4, 0.25 * float(np.median(crowd)))
        x = x[keep]
    cells = np.unique(np.round(x / (2 * r)).astype(np.int64), axis=0, return_inverse=True)
    middles, member = cells[0] * (2 * r), cells[1].ravel()
    pairs = cKDTree(middles).query_pairs(9 * r, output_type="ndarray")
    graph = coo_array((np.ones(len(pairs)), pairs.T), shape=(len(middles),) * 2)
    _, part = connected_components(graph, directed=False)
    low = middles[:, 2] < 0
    if not low.any():
        return x
    main = np.bincount(part[low]).argmax()
    inside = part == main
    # what much was seen of may hang on over a longer gap: holes of a scan join
    for other in np.flatnonzero(np.bincount(part[member]) > _MUCH * len(x)):
        if other != main:
            gap, _ = cKDTree(middles[part == main]).query(middles[part == other])
            inside |= (part == other) & (gap.min() < 24 * r)
    kept: Array = x[inside[member]]
    return kept
