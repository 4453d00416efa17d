"""How far the wire stays from the parts of fitted ends, by shapely's distance in the plane."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import shapely
from scipy.spatial import cKDTree

from springgeo.fittings import Part, Plate, Turned
from springgeo.spring.geometry import Geometry

Array = npt.NDArray[np.float64]


def clearances(g: Geometry) -> dict[str, float]:
    """Return the least distance, mm, from the wire's surface to each part; below 0 is inside."""
    points = g.path.sample(g.wire_diameter / 12).point
    return {p.name: float(_distance(p, points).min()) - g.wire_diameter / 2 for p in g.parts}


def _distance(part: Part, points: Array) -> Array:
    own = (points - part.origin) @ part.axes
    if isinstance(part.form, Plate):
        return _to_plate(part.form, own)
    return np.minimum(_to_profile(part.form, own), _to_rod(part, points))


def _to_profile(form: Turned, own: Array) -> Array:
    r, z = np.array(form.profile).T
    outline = shapely.polygons(
        [(0.0, z[0]), *zip(r.tolist(), z.tolist(), strict=True), (0.0, z[-1])]
    )
    flat = np.column_stack([np.hypot(own[:, 0], own[:, 1]), own[:, 2]])
    result: Array = shapely.distance(outline, shapely.points(flat))
    return result


def _to_rod(part: Part, points: Array) -> Array:
    if part.rod is None:
        return np.full(len(points), np.inf)
    path, radius = part.rod
    line = path.sample(radius / 10).point
    away, _ = cKDTree(line).query(points)
    return np.array([away.min() - radius])


def _to_plate(form: Plate, own: Array) -> Array:
    sheet = shapely.polygons([*form.right, *reversed(form.left)])
    sheet = sheet.union(
        shapely.points(0.0, form.centre).buffer(form.radius, quad_segs=64)
    ).difference(shapely.points(0.0, form.centre).buffer(form.hole, quad_segs=64))
    within = shapely.distance(sheet, shapely.points(own[:, [0, 2]]))
    beyond = np.maximum(np.abs(own[:, 1]) - form.thickness / 2, 0.0)
    result: Array = np.hypot(within, beyond)
    return result
