"""Parts of fitted ends seen along or across their axis: areas of the paper with a depth.

Seen from the side a part is one patch at the depth of its axis: the coils that hold it are wholly
before or behind. Seen along its axis it is a pile of slices, so that each turn of a cone finds
what lies above and below it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import ModuleType

import numpy as np

from springgeo.curve.frame import Array
from springgeo.drawing.view.planar import Planar
from springgeo.drawing.view.strands import Sight
from springgeo.fittings import Part, Plate, Turned, in_sheet, plate_hole, plate_rim

_QUADRANT = 24  # segments per quarter of a circle
_STEPS = 10  # slices per frustum
_SHARP = 0.3  # rad: a corner of an outline that shows as an edge on the wall


@dataclass(frozen=True)
class Patch:
    """What a part covers at one depth: ``lines`` are its edges, depth grows to the viewer, mm."""

    area: Planar
    depth: float
    lines: list[Planar] = field(default_factory=list)


def patches(shapely: ModuleType, part: Part, sight: Sight) -> list[Patch]:
    """Return a part's patches, a rod left out.

    Raises
    ------
    ValueError
        The part's axis is neither in the paper nor square to it.
    """
    along = float(part.axes[:, 2] @ sight.to_viewer)
    if min(abs(along), 1 - abs(along)) > 1e-9:
        raise ValueError(f"{part.name} is seen aslant, which the sheet does not draw")
    across = abs(along) < 0.5
    if isinstance(part.form, Turned):
        return (
            _turned_side(shapely, part, part.form, sight)
            if across
            else _turned_top(shapely, part, part.form, sight)
        )
    return (
        _plate_side(shapely, part, part.form, sight)
        if across
        else _plate_top(shapely, part, part.form, sight)
    )


def _axis_point(part: Part, z: float) -> Array:
    return part.placed(np.array([[0.0, 0.0, z]]))


def _depth(part: Part, sight: Sight, z: float = 0.0) -> float:
    return float((_axis_point(part, z) @ sight.to_viewer)[0])


def _turned_side(shapely: ModuleType, part: Part, form: Turned, sight: Sight) -> list[Patch]:
    r, z = np.array(form.profile).T
    foot = sight.flat(np.concatenate([_axis_point(part, v) for v in z.tolist()]))
    along = sight.flat(part.axes[:, 2])
    aside = r[:, None] * np.array([-along[1], along[0]])
    left, right = foot + aside, foot - aside
    # the rod goes on from the last corner, which then is no edge
    last = len(r) - 1 if form.rod is not None else len(r)
    edges = [shapely.linestrings([left[i], right[i]]) for i in range(last)]
    edges += [shapely.linestrings(side) for side in (left, right)]
    area = shapely.polygons(np.concatenate([left, right[::-1]])).buffer(0)
    return [Patch(area, _depth(part, sight), [shapely.union_all(edges)])]


def _turned_top(shapely: ModuleType, part: Part, form: Turned, sight: Sight) -> list[Patch]:
    corners = list(form.profile)
    found = []
    for i, (r, z) in enumerate(corners):
        rod_starts = form.rod is not None and i == len(corners) - 1
        found.append(_disc(shapely, part, sight, r, z, edge=not rod_starts))
        if i + 1 == len(corners) or corners[i + 1][1] == z:
            continue
        r1, z1 = corners[i + 1]
        found += [
            _disc(shapely, part, sight, r + t * (r1 - r), z + t * (z1 - z), edge=False)
            for t in np.linspace(0.0, 1.0, _STEPS + 1)[1:-1].tolist()
        ]
    return found


def _disc(
    shapely: ModuleType, part: Part, sight: Sight, r: float, z: float, *, edge: bool
) -> Patch:
    centre = sight.flat(_axis_point(part, z))[0]
    disc = shapely.points(centre).buffer(r, quad_segs=_QUADRANT)
    return Patch(disc, _depth(part, sight, z), [disc.boundary] if edge else [])


def _plate_side(shapely: ModuleType, part: Part, form: Plate, sight: Sight) -> list[Patch]:
    """Return the near face, the walls beside it and what of the far face is seen."""
    half = form.thickness / 2
    if float(part.axes[:, 1] @ sight.to_viewer) < 0:
        half = -half
    rings = plate_rim(form), plate_hole(form)
    near, far = ([sight.flat(part.placed(in_sheet(x, y))) for x in rings] for y in (half, -half))
    faces = [_face(shapely, *face) for face in (near, far)]
    walls = [
        shapely.convex_hull(shapely.multipoints([a[i], a[i - 1], b[i], b[i - 1]]))
        for a, b in zip(near, far, strict=True)
        for i in range(len(a))
    ]
    solid = [g for g in (*faces, *walls) if g.geom_type == "Polygon" and g.area > 0]
    area = shapely.union_all(solid).buffer(0)
    lines = [area.boundary]
    if faces[0].area > 1e-9 * form.area:
        lines += [faces[0].boundary, shapely.linearrings(far[1]).difference(faces[0])]
    lines += _walls(shapely, rings[0], near[0], far[0], faces[0])
    return [Patch(area, _depth(part, sight), [shapely.union_all(lines)])]


def _face(shapely: ModuleType, rim: Array, hole: Array) -> Planar:
    whole: Planar = shapely.polygons(rim)
    return whole.buffer(0).difference(shapely.polygons(hole).buffer(0))


def _walls(shapely: ModuleType, rim: Array, near: Array, far: Array, face: Planar) -> list[Planar]:
    """Return the edges across the sheet's thickness that the near face does not hide."""
    step = np.roll(rim, -1, axis=0) - rim
    way = np.arctan2(step[:, 1], step[:, 0])
    bend = (way - np.roll(way, 1) + np.pi) % (2 * np.pi) - np.pi
    found = [
        shapely.linestrings([near[i], far[i]]).difference(face)
        for i in np.flatnonzero(np.abs(bend) > _SHARP).tolist()
        if float(np.hypot(*(near[i] - far[i]))) > 1e-9
    ]
    return [line for line in found if not line.is_empty]


def _plate_top(shapely: ModuleType, part: Part, form: Plate, sight: Sight) -> list[Patch]:
    (xl, zl), (xr, zr) = np.array(form.left).T, np.array(form.right).T
    half, found = form.thickness / 2, []
    # the round end is nowhere wider than the sides at its foot
    for z in np.unique(np.concatenate([zl, zr])).tolist():
        left, right = float(np.interp(z, zl, xl)), float(np.interp(z, zr, xr))
        own = np.array(
            [[x, y, z] for x, y in ((left, -half), (right, -half), (right, half), (left, half))]
        )
        box = shapely.polygons(sight.flat(part.placed(own)))
        found.append(Patch(box, _depth(part, sight, z), [box.boundary]))
    return found
