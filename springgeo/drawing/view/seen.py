"""A whole spring as seen from one side: wire and the parts its ends hold hide one another."""

from __future__ import annotations

from functools import lru_cache
from types import ModuleType

import numpy as np

from springgeo.drawing.view.patches import Patch, patches
from springgeo.drawing.view.planar import Planar
from springgeo.drawing.view.silhouette import Silhouette, Tube, joined, silhouette, tube
from springgeo.drawing.view.strands import Sight, Strand
from springgeo.optional import need
from springgeo.spring.geometry import Geometry

_TOUCH = 4e-3  # of d: edges nearer than this on the paper are one line


@lru_cache(maxsize=24)
def spring_seen(geometry: Geometry, sight: Sight) -> Silhouette:
    """Return wire and parts as seen from one side, hidden lines removed.

    Kept for a while: a spring is seen alike on every paper, in every language and units.

    Parameters
    ----------
    geometry : Geometry
    sight : Sight
        Along or across the spring's axis.
    """
    d = geometry.wire_diameter
    if not geometry.parts:
        return silhouette(geometry.path, d, sight)
    shapely = need("shapely", "a drawing", "drawing")
    wire = tube(geometry.path, d, sight)
    rods = [
        tube(path, 2 * r, sight)
        for path, r in (p.rod or (None, 0.0) for p in geometry.parts)
        if path is not None
    ]
    flat = [p for part in geometry.parts for p in patches(shapely, part, sight)]
    tubes = [wire, *rods]
    lines = [
        [_left(shapely, t, i, edge, tubes, flat, d) for i, edge in t.edges.items()] for t in tubes
    ]
    fittings = [line for rod in lines[1:] for line in rod]
    fittings += [_left_of_patch(shapely, p, tubes, flat, d) for p in flat if p.lines]
    area = shapely.union_all([*(t.cover for t in tubes), *(p.area for p in flat)])
    return Silhouette(joined(lines[0], 0.02 * d), area, joined(fittings, 0.02 * d))


def _left(
    shapely: ModuleType,
    own: Tube,
    i: int,
    edge: Planar,
    tubes: list[Tube],
    flat: list[Patch],
    d: float,
) -> Planar:
    """Return what other tubes and the patches leave of a strand's edge."""
    run, area, touch = own.runs[i], own.areas[i], _TOUCH * d
    # a rod grows out of its own part: no edge where it starts
    hiding = [
        p.area.buffer(touch)
        for p in flat
        if p.area.intersects(area)
        and (_over(shapely, p, own, i) < 0 or (run.cut_start and own is not tubes[0]))
    ]
    for other in tubes:
        if other is not own:
            hiding += [
                other.areas[j].buffer(touch)
                for j in other.seen
                if _passes(other.runs[j], run, (own.wire_diameter + other.wire_diameter) / 2)
                > touch
            ]
    return edge.difference(shapely.union_all(hiding)) if hiding else edge


def _left_of_patch(
    shapely: ModuleType, patch: Patch, tubes: list[Tube], flat: list[Patch], d: float
) -> Planar:
    touch = _TOUCH * d
    hiding = [
        t.areas[i].buffer(touch)
        for t in tubes
        for i in t.seen
        if t.areas[i].intersects(patch.area) and _over(shapely, patch, t, i) > 0
    ]
    hiding += [p.area.buffer(touch) for p in flat if p.depth > patch.depth + 1e-9 * d]
    line: Planar = shapely.union_all(patch.lines)
    return line.difference(shapely.union_all(hiding)) if hiding else line


def _over(shapely: ModuleType, patch: Patch, own: Tube, i: int) -> float:
    """Return how far a strand lies before a patch where their pictures overlap, mm; 0 if not."""
    run = own.runs[i]
    near = patch.area.buffer(own.wire_diameter / 2)
    shapely.prepare(near)
    inside = shapely.contains_xy(near, *run.points.T)
    return float(run.depth[inside].mean()) - patch.depth if inside.any() else 0.0


def _passes(a: Strand, b: Strand, reach: float) -> float:
    """Return how far strand a passes before b where their pictures are closest, mm."""
    gap = np.square(a.points[:, None] - b.points[None]).sum(axis=-1)
    at = np.unravel_index(int(np.argmin(gap)), gap.shape)
    return 0.0 if gap[at] > (0.98 * reach) ** 2 else float(a.depth[at[0]] - b.depth[at[1]])
