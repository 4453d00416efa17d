"""How far a solid's surface is from the exact tube: its points against the centreline."""

from __future__ import annotations

import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepTools import BRepTools
from OCP.Geom import Geom_Plane, Geom_Surface
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Face, TopoDS_Shape

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.solid.faces import Faces
from springgeo.solid.spline_face import SplineFace

# points round each sampled cross-section
_ROUND = 12


def surface_deviation(shape: TopoDS_Shape | Faces, path: Path, radius: float, n: int = 16) -> float:
    """Return the greatest ``|distance to the centreline − radius|`` over the curved faces, mm.

    Every face that is closed round the wire is sampled on ``n`` rings. The middle of a ring
    says which stretch of wire it belongs to, so that a touching neighbour coil is never taken
    for it; from there each point finds its own foot on the centreline by Newton's method.
    Flat faces are left out. Raises ``ValueError`` where no face is closed round the wire.
    """
    read = shape if isinstance(shape, Faces) else Faces.of(shape)
    rings = [ring for face, spline in read.faces for ring in _rings(face, spline, n)]
    if not rings:
        raise ValueError("no face of the shape is closed round the wire")
    points = np.array(rings)
    start = _nearest(path, points.mean(axis=1), radius)
    flat = points.reshape(-1, 3)
    s = _foot(path, flat, np.repeat(start, _ROUND), radius)
    distance = np.linalg.norm(flat - path.point(s), axis=1)
    return float(np.abs(distance - radius).max())


def _rings(face: TopoDS_Face, spline: SplineFace | None, n: int) -> list[Array]:
    """Return ``n`` rings ``(_ROUND, 3) float, mm`` of surface points across the wire."""
    place = TopLoc_Location()
    surface = BRep_Tool.Surface_s(face, place)
    if isinstance(surface, Geom_Plane):
        return []
    low_u, high_u, low_v, high_v = BRepTools.UVBounds_s(face)
    u_round = _closed(surface, (low_u, high_u), (low_v + high_v) / 2, u_round=True)
    if not u_round and not _closed(surface, (low_v, high_v), (low_u + high_u) / 2, u_round=False):
        return []
    across, along = ((low_u, high_u), (low_v, high_v))[:: 1 if u_round else -1]
    angles = across[0] + (across[1] - across[0]) * np.arange(_ROUND) / _ROUND
    # off the regular spacing, where an interpolating spline could happen to be exact
    shares = (np.arange(n) + 0.5 + 0.3 * (-1.0) ** np.arange(n)) / n
    steps = along[0] + (along[1] - along[0]) * shares
    if spline is not None:
        if u_round:
            return list(spline.points(angles, steps).transpose(1, 0, 2))
        return list(spline.points(steps, angles))
    shift, in_place = place.Transformation(), place.IsIdentity()

    def ring(b: float) -> Array:
        places = ((a, b) if u_round else (b, a) for a in round_it)
        points = [value(*place) for place in places]
        if not in_place:
            points = [point.Transformed(shift) for point in points]
        return np.array([point.Coord() for point in points])

    # numpy's own numbers take the bindings longer
    value, round_it = surface.Value, angles.tolist()
    return [ring(b) for b in steps.tolist()]


def _closed(
    surface: Geom_Surface, span: tuple[float, float], other: float, *, u_round: bool
) -> bool:
    ends = [surface.Value(w, other) if u_round else surface.Value(other, w) for w in span]
    middle = surface.Value(*((sum(span) / 2, other) if u_round else (other, sum(span) / 2)))
    return bool(ends[0].Distance(ends[1]) < 1e-3 * ends[0].Distance(middle))


def _nearest(path: Path, points: Array, radius: float) -> Array:
    """Return the arc lengths of the samples nearest to ``points``, in blocks to save memory."""
    samples = path.sample(radius / 2)
    found = []
    for block in np.array_split(points, max(1, len(points) // 64)):
        low, high = block.min(axis=0) - 2 * radius, block.max(axis=0) + 2 * radius
        near = np.flatnonzero(np.all((samples.point > low) & (samples.point < high), axis=1))
        away = np.zeros((len(block), len(near)))
        for here, there in zip(block.T, samples.point[near].T, strict=True):
            away += (here[:, None] - there) ** 2
        found.append(samples.s[near[np.argmin(away, axis=1)]])
    return np.concatenate(found)


def _foot(path: Path, points: Array, s: Array, radius: float) -> Array:
    for _ in range(20):
        point, tangent, curvature = path.traced(s, "point", "tangent", "curvature")
        gap = points - point
        slope = np.sum(gap * tangent, axis=1)
        bend = 1.0 - np.sum(gap * curvature, axis=1)
        step = np.clip(slope / np.maximum(bend, 0.1), -radius, radius)
        s = np.clip(s + step, 0.0, path.length)
        if np.abs(step).max() < 1e-12 * path.length:
            break
    return s
