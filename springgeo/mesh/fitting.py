"""The parts of fitted ends as closed triangle meshes, straight from their description."""

from __future__ import annotations

import math

import numpy as np

from springgeo.curve.frame import Array
from springgeo.fittings import Part, Plate, Turned
from springgeo.mesh.density import density
from springgeo.mesh.triangles import Mesh
from springgeo.mesh.tube import frames, ring_faces, stations


def part_mesh(part: Part, chord: float) -> Mesh:
    """Return a part as a watertight mesh in the spring's frame, corners on its true surface.

    Parameters
    ----------
    part : Part
    chord : float, mm
        Greatest distance between mesh and surface.
    """
    form = part.form
    mesh = _turned(form, chord) if isinstance(form, Turned) else _plate(form, chord)
    faces = mesh.faces[:, ::-1] if part.mirrored else mesh.faces
    return Mesh(part.placed(mesh.vertices), np.ascontiguousarray(faces))


def corners(radius: float, chord: float) -> int:
    """Return how many corners a circle needs to stay within ``chord`` mm."""
    return max(12, math.ceil(math.pi / math.acos(max(-1.0, 1 - chord / radius))))


def _turned(form: Turned, chord: float) -> Mesh:
    """Return rings up the profile and on along the rod, strips between them, two fans."""
    widest = max(r for r, _ in form.profile)
    around = corners(widest, chord)
    if form.rod is not None:
        around = max(around, density(form.rod, form.rod_radius, chord).around)
    angle = 2 * np.pi * np.arange(around) / around
    circle = np.column_stack([np.cos(angle), np.sin(angle), np.zeros(around)])
    rings = [r * circle + [0.0, 0.0, z] for r, z in form.profile]
    hubs = [[0.0, 0.0, form.profile[0][1]], [0.0, 0.0, form.profile[-1][1]]]
    if form.rod is not None:
        beyond, hubs[1] = _rod_rings(form, chord, circle)
        rings += beyond
    vertices = np.concatenate([*rings, np.array(hubs)])
    return Mesh(vertices, ring_faces(len(rings), around))


def _rod_rings(form: Turned, chord: float, circle: Array) -> tuple[list[Array], list[float]]:
    rod = form.rod
    assert rod is not None
    s = stations(rod, density(rod, form.rod_radius, chord))
    centre, e1, e2 = frames(rod, s)
    # the ring at the rod's start is the profile's last one: turned so that corners meet
    c, q = e1[0, 0], e1[0, 1]
    first, second = c * e1 - q * e2, q * e1 + c * e2
    x, y = form.rod_radius * circle[:, :1], form.rod_radius * circle[:, 1:2]
    rings = [centre[i] + x * first[i] + y * second[i] for i in range(1, len(s))]
    return rings, centre[-1].tolist()


def _plate(form: Plate, chord: float) -> Mesh:
    """Return both faces of the sheet as strips from the hole to the sides, and the walls.

    Both outline and hole are cut at the same heights, on either side of the axis; below and
    above the hole the inner line is the axis itself.
    """
    centre = np.array([0.0, form.centre])
    round_end = _half_circle(form.radius, chord, upper=True) + centre
    hole = _half_circle(form.hole, chord, upper=False) + centre
    lines = hole, round_end, np.array(form.left), np.array(form.right)
    heights = np.unique(np.round(np.concatenate([line[:, 1] for line in lines]), 12))
    half = form.thickness / 2
    inner = _half_chord(form.hole, heights - form.centre)
    blocks: list[Array] = []
    for side, sign in ((form.right, 1.0), (form.left, -1.0)):
        x, z = (np.array(side) * [sign, 1.0]).T
        above = _half_chord(form.radius, heights - form.centre)
        outer = np.where(heights <= form.centre, np.interp(heights, z, x), above)
        blocks.append(_half_sheet(heights, inner, outer, half, sign))
    soup = np.concatenate(blocks)
    return _welded(soup)


def _half_chord(radius: float, height: Array) -> Array:
    """Return half the chord of a circle at heights from its centre; 0 at and beyond its top."""
    inside = np.abs(height) < radius - 1e-9  # heights are rounded
    return np.where(inside, np.sqrt(np.maximum(radius**2 - height**2, 0.0)), 0.0)


def _half_circle(radius: float, chord: float, *, upper: bool) -> Array:
    """Return points (x ≥ 0, z) on a circle from low to high, the upper quarter alone if asked."""
    n = corners(radius, chord)
    angle = np.linspace(0.0 if upper else -np.pi / 2, np.pi / 2, max(4, n // 2 + 1))
    points = radius * np.column_stack([np.cos(angle), np.sin(angle)])
    points[-1, 0] = 0.0
    if not upper:
        points[0, 0] = 0.0
    return points


def _half_sheet(z: Array, inner: Array, outer: Array, half: float, sign: float) -> Array:
    """Return triangles ``(n, 3, 3)`` of one half: front, back, side wall, hole's wall, foot."""

    def at(x: Array, y: float) -> Array:
        return np.column_stack([sign * x, np.full_like(x, y), z])

    front_in, front_out = at(inner, -half), at(outer, -half)
    back_in, back_out = at(inner, half), at(outer, half)
    open_hole = (inner[:-1] > 0) | (inner[1:] > 0)
    quads = [
        _quads(front_in, front_out),
        _quads(back_out, back_in),
        _quads(front_out, back_out),
        _quads(back_in, front_in)[np.tile(open_hole, 2)],
    ]
    foot = np.array(
        [
            [front_in[0], back_in[0], back_out[0]],
            [front_in[0], back_out[0], front_out[0]],
        ]
    )
    triangles = np.concatenate([*quads, foot])
    return triangles if sign > 0 else triangles[:, ::-1]


def _quads(a: Array, b: Array) -> Array:
    """Return the triangles between two lines of points, each ``(n, 3)``."""
    lower = np.stack([a[:-1], b[:-1], b[1:]], axis=1)
    upper = np.stack([a[:-1], b[1:], a[1:]], axis=1)
    return np.concatenate([lower, upper])


def _welded(triangles: Array) -> Mesh:
    """Return a triangle soup as a mesh with shared corners, without degenerate triangles."""
    points = np.round(triangles.reshape(-1, 3), 12) + 0.0
    vertices, index = np.unique(points, axis=0, return_inverse=True)
    faces = index.reshape(-1, 3).astype(np.int32)
    real = (
        (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    )
    return Mesh(vertices, faces[real])
