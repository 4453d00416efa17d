"""What is seen of round wire in a parallel projection: its outline with hidden lines taken away.

The picture of a tube is its flattened centreline widened by half a wire diameter. The wire is
cut into strands; of two that overlap, the nearer one (at the place where they lie closest on
the paper) hides the other. No kernel is needed, and no meshing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from types import ModuleType

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.drawing.view.planar import Planar
from springgeo.drawing.view.strands import Sight, Strand, centreline_points, strands
from springgeo.optional import need

_QUADRANT = 16  # segments per quarter of a round end
_JOINT = 1e-3  # of d: a strand's edges at a joint are not hidden by the next strand
_TOUCH = 4e-3  # of d: edges nearer than this on the paper are one line
_BURIED = 1e-2  # of d: what reaches no further beyond nearer strands is behind them


@dataclass(frozen=True)
class Silhouette:
    """A spring on paper, mm: visible edges ``(n, 2)``, ``area`` all it covers.

    ``lines`` are those of the wire, ``fittings`` those of the parts that its ends hold.
    """

    lines: tuple[Array, ...]
    area: Planar
    fittings: tuple[Array, ...] = ()

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top, mm."""
        left, bottom, right, top = self.area.bounds
        return float(left), float(bottom), float(right), float(top)


@dataclass(frozen=True)
class Tube:
    """Round wire on paper: its strands, what each covers, and the edges no other strand hides.

    ``seen`` are the strands not buried behind nearer ones, ``edges`` theirs by number.
    """

    runs: list[Strand]
    areas: list[Planar]
    seen: list[int]
    edges: dict[int, Planar]
    wire_diameter: float

    @property
    def cover(self) -> Planar:
        """All it covers."""
        return _cover(
            need("shapely", "a drawing", "drawing"), self.areas, self.seen, self.wire_diameter
        )


def tube(path: Path, wire_diameter: float, sight: Sight) -> Tube:
    """Return round wire on a centreline as seen from one side, mm."""
    shapely = need("shapely", "a drawing", "drawing")
    points, tangents = centreline_points(path)
    runs = strands(points, sight)
    faces = [_end_face(points[i], tangents[i], wire_diameter, sight) for i in (0, -1)]
    areas = [_area(shapely, run, wire_diameter, faces) for run in runs]
    seen = _not_buried(shapely, runs, areas, _BURIED * wire_diameter)
    edges = _visible(shapely, runs, areas, seen, wire_diameter)
    for i, rim in _end_circles(shapely, tangents, faces, sight, runs, areas):
        edges[i] = shapely.union_all([edges[i], rim]) if i in edges else rim
    return Tube(runs, areas, seen, edges, wire_diameter)


def silhouette(path: Path, wire_diameter: float, sight: Sight) -> Silhouette:
    """Return the outline of round wire on a centreline, hidden lines removed.

    Parameters
    ----------
    path : Path
    wire_diameter : float, mm
    sight : Sight
    """
    wire = tube(path, wire_diameter, sight)
    return Silhouette(joined(wire.edges.values(), 0.02 * wire_diameter), wire.cover)


def joined(lines: Iterable[Planar], least: float) -> tuple[Array, ...]:
    """Return lines merged where they meet, as points ``(n, 2)``; specks under ``least`` mm go."""
    shapely = need("shapely", "a drawing", "drawing")
    pieces = [p for q in lines for p in shapely.get_parts(q) if p.geom_type != "Point"]
    merged = shapely.line_merge(shapely.multilinestrings(pieces))
    return tuple(shapely.get_coordinates(p) for p in shapely.get_parts(merged) if p.length > least)


def _end_face(centre: Array, tangent: Array, wire_diameter: float, sight: Sight) -> Array:
    """Return the cut end's rim as an ellipse on the paper, ``(n, 2) float, mm``."""
    a = np.cross(tangent, np.eye(3)[int(np.argmin(np.abs(tangent)))])
    a /= np.linalg.norm(a)
    t = np.linspace(0, 2 * np.pi, 4 * _QUADRANT, endpoint=False)[:, None]
    rim = centre + wire_diameter / 2 * (np.cos(t) * a + np.sin(t) * np.cross(tangent, a))
    return sight.flat(rim)


def _area(shapely: ModuleType, run: Strand, wire_diameter: float, faces: list[Array]) -> Planar:
    line: Planar = shapely.linestrings(run.points)
    if not (run.cut_start or run.cut_end):
        return line.buffer(wire_diameter / 2, quad_segs=_QUADRANT)
    parts = [line.buffer(wire_diameter / 2, quad_segs=_QUADRANT, cap_style="flat")]
    for cut, where, face in (
        (run.cut_start, run.points[0], faces[0]),
        (run.cut_end, run.points[-1], faces[1]),
    ):
        if cut:
            ellipse = shapely.polygons(face).convex_hull
            parts += [ellipse] if ellipse.geom_type == "Polygon" else []
        else:
            parts.append(shapely.points(where).buffer(wire_diameter / 2, quad_segs=_QUADRANT))
    whole: Planar = shapely.union_all(parts)
    return whole


def _not_buried(
    shapely: ModuleType, runs: list[Strand], areas: list[Planar], slack: float
) -> list[int]:
    """Return the strands not wholly behind nearer ones: in an end view, two turns of many."""
    order = sorted(range(len(runs)), key=lambda i: -float(runs[i].depth.mean()))
    waiting: list[int] = []
    cover = shapely.Polygon()
    seen = []
    for i in order:
        top = float(runs[i].depth.max())
        nearer = [j for j in waiting if float(runs[j].depth.min()) >= top]
        if nearer:
            cover = shapely.union_all([cover, *(areas[j] for j in nearer)])
            shapely.prepare(cover)
            waiting = [j for j in waiting if j not in nearer]
        if not cover.covers(areas[i].buffer(-slack)):
            seen.append(i)
            waiting.append(i)
    return sorted(seen)


def _cover(
    shapely: ModuleType, areas: list[Planar], seen: list[int], wire_diameter: float
) -> Planar:
    """Return the union of all areas; turns lying on turns are found covered, not united."""
    cover: Planar = shapely.union_all([areas[i] for i in seen])
    wider = cover.buffer(1e-3 * wire_diameter)
    shapely.prepare(wider)
    rest = [a for a in areas if not wider.covers(a)]
    if rest:
        cover = shapely.union_all([cover, *rest])
    return cover


def _visible(
    shapely: ModuleType,
    runs: list[Strand],
    areas: list[Planar],
    seen: list[int],
    wire_diameter: float,
) -> dict[int, Planar]:
    eps = _JOINT * wire_diameter
    inner = {i: areas[i].buffer(-eps) for i in seen}
    outer = {i: areas[i].buffer(_TOUCH * wire_diameter) for i in seen}
    tree = shapely.STRtree([outer[i] for i in seen])
    edges = {}
    for i in seen:
        others = [seen[k] for k in tree.query(areas[i], predicate="intersects").tolist()]
        hiding = [
            outer[j] if rise > wire_diameter / 2 and abs(i - j) > 1 else inner[j]
            for j in others
            if j != i and (rise := _rise(runs, j, i, wire_diameter)) > 0
        ]
        line = areas[i].boundary
        for j, at in ((i - 1, 0), (i + 1, -1)):  # the round end at a cut is no edge
            if j in inner:
                hiding.append(_round_end(shapely, runs[i].points, at, wire_diameter, eps, inner[j]))
        if hiding:
            line = line.difference(shapely.union_all(hiding))
        if not line.is_empty:
            edges[i] = line
    return edges


def _round_end(
    shapely: ModuleType, points: Array, at: int, wire_diameter: float, eps: float, following: Planar
) -> Planar:
    """Return where a strand's round end, beyond its last point, lies inside the next strand."""
    end = points[at]
    away = end - points
    order = away if at == 0 else away[::-1]  # from the end inward
    far = np.flatnonzero(np.hypot(*order.T) > wire_diameter / 2)
    along = order[far[0]] if len(far) else order[-1]
    along = along / max(float(np.hypot(*along)), 1e-12) * wire_diameter
    across = np.array([-along[1], along[0]])
    beyond = shapely.polygons(
        [end - across, end + across, end + across + along, end - across + along]
    )
    disc: Planar = shapely.points(end).buffer(wire_diameter / 2 + eps, quad_segs=_QUADRANT)
    return disc.intersection(beyond).intersection(following)


def _rise(runs: list[Strand], j: int, i: int, wire_diameter: float) -> float:
    """Return how far strand j passes before strand i where their pictures are closest, mm.

    Zero where the pictures only touch, as those of neighbouring coils do.
    """
    a, b = runs[i], runs[j]
    if abs(i - j) == 1:
        return float(b.depth.mean() - a.depth.mean())
    gap = np.square(a.points[:, None] - b.points[None]).sum(axis=-1)
    at = np.unravel_index(int(np.argmin(gap)), gap.shape)
    if gap[at] > (0.98 * wire_diameter) ** 2:
        return 0.0
    return float(b.depth[at[1]] - a.depth[at[0]])


def _end_circles(
    shapely: ModuleType,
    tangents: Array,
    faces: list[Array],
    sight: Sight,
    runs: list[Strand],
    areas: list[Planar],
) -> list[tuple[int, Planar]]:
    """Return the rims of the wire's cut ends that face the viewer, where nothing is before them."""
    lines = []
    for face, outward, own, at in (
        (faces[0], -tangents[0], 0, 0),
        (faces[1], tangents[-1], len(runs) - 1, -1),
    ):
        if outward @ sight.to_viewer < 1e-6:
            continue
        depth = float(runs[own].depth[at])
        ring = shapely.linearrings(face)
        before = [
            area
            for k, (run, area) in enumerate(zip(runs, areas, strict=True))
            if k != own and float(run.depth.max()) > depth and area.intersects(ring)
            if _depth_near(run, face.mean(axis=0)) > depth
        ]
        lines.append((own, ring.difference(shapely.union_all(before)) if before else ring))
    return [(own, line) for own, line in lines if not line.is_empty]


def _depth_near(run: Strand, point: Array) -> float:
    return float(run.depth[np.argmin(np.square(run.points - point).sum(axis=1))])
