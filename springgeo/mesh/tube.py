"""The tube on a centreline as a closed triangle mesh: rings, strips between them, two fans."""

from __future__ import annotations

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.curve.motion import cross
from springgeo.mesh.density import Density, density
from springgeo.mesh.triangles import Faces, Mesh


def tube_mesh(path: Path, radius: float, chord: float) -> Mesh:
    """Return the round wire of ``radius`` mm on ``path``, closed by flat discs.

    Parameters
    ----------
    path : Path
    radius : float, mm
        Of the wire, d/2.
    chord : float, mm
        Greatest distance between the mesh and the true tube, either way; above 0 and below
        ``radius`` (above ``radius``/5 the mesh gets no coarser).

    Returns
    -------
    Mesh
        Watertight, facing outward, of Euler number 2, by construction; every corner lies on
        the tube.

    Raises
    ------
    SpecError
        ``radius`` or ``chord`` not usable, a bend tighter than the radius, or more than
        20 million triangles.

    Notes
    -----
    Why the error is at most ``chord``. Write r for the radius, n for the corners of a ring, h
    for the step between rings, κ for the greatest curvature. A point of a triangle is
    ``P = (1−λ) A + λ B`` with A on an edge of one ring's polygon and B on the same edge of the
    next ring's, since rings follow each other by the least rotation.

    *Outward*: A and B lie within r of their ring centres, so P lies within r of the same mix of
    centres, a chord of the centreline, which is within ``κ h²/8`` of it.

    *Inward*, on an arc of radius ρ = 1/κ: in the cylinder coordinates of its axis the edge is a
    chord of the circle of radius r and so at most ``e_φ = r (1 − cos π/n)`` inside it; mixing A
    and B keeps P on that chord but pulls it toward the axis, most at the outer fibre and in the
    middle, by at most ``(ρ + r)(1 − cos κh/2) ≤ e_u = κ (1 + κ r) h²/8``. Together at most
    ``e_φ + e_u``. On other curves the step is such an arc up to the change of the curvature
    vector within the step, a term of higher order for which 5 % of ``chord`` is held back.

    *From the tube to the mesh*: each ray from the centreline across the wire meets the mesh, in
    a point whose distance from the centreline was just bounded.
    """
    plan = density(path, radius, chord)
    s = stations(path, plan)
    rings = _rings(path, s, radius, plan.around)
    caps = path.point(s[[0, -1]])
    return _locked(np.concatenate([rings.reshape(-1, 3), caps]), ring_faces(len(s), plan.around))


def stations(path: Path, plan: Density) -> Array:
    """Return the arc lengths of the rings, mm: evenly within each piece, one at each joint.

    But for the start of a piece without steps.
    """
    parts = [
        start + np.linspace(0.0, piece.segment.length, n, endpoint=False)
        for (piece, start), n in zip(path, plan.steps, strict=True)
    ]
    return np.concatenate([*parts, [path.length]])


def frames(path: Path, s: Array) -> tuple[Array, Array, Array]:
    """Return ring centres and two unit vectors across the wire, each ``(n, 3) float``.

    The vectors go from each station to the next by the least rotation; with the tangent they
    are right-handed: tangent × first = second.
    """
    point, t, e1 = path.placed(s)
    e2 = cross(t, e1)
    back = -_twist(t, e1)[:, None]
    c, q = np.cos(back), np.sin(back)
    return point, c * e1 + q * e2, c * e2 - q * e1


def _rings(path: Path, s: Array, radius: float, around: int) -> Array:
    """Return the corners ``(stations, around, 3) float, mm``, counter-clockwise about the wire."""
    centre, e1, e2 = frames(path, s)
    angle = 2 * np.pi * np.arange(around)[:, None] / around
    across = np.cos(angle) * e1[:, None] + np.sin(angle) * e2[:, None]
    rings: Array = centre[:, None] + radius * across
    return rings


def _twist(t: Array, e1: Array) -> Array:
    """Return the angle ``(n,) float, rad`` by which ``e1`` has turned about the wire by itself.

    Measured against the frame that goes from each station to the next by the least rotation
    (in one axis, across both tangents); without it neighbouring rings would be skewed.
    """
    t0, t1, e0 = t[:-1], t[1:], e1[:-1]
    share = np.sum(t1 * e0, axis=1) / (1 + np.sum(t0 * t1, axis=1))
    carried = e0 - share[:, None] * (t0 + t1)
    sine = np.sum(cross(t1, carried) * e1[1:], axis=1)
    return np.concatenate([[0.0], np.cumsum(np.arctan2(sine, np.sum(carried * e1[1:], axis=1)))])


def ring_faces(stations: int, around: int) -> Faces:
    """Return strips between rings, then the fans about the two last corners, ``(m, 3) int32``."""
    ring = np.arange(around, dtype=np.int32)
    after = np.roll(ring, -1)
    row = (np.arange(stations - 1, dtype=np.int32) * np.int32(around))[:, None]
    a, b = row + ring, row + after
    c, d = a + np.int32(around), b + np.int32(around)
    strips = np.stack([a, b, d, a, d, c], axis=-1).reshape(-1, 3)
    last = np.int32((stations - 1) * around)
    hub = last + np.int32(around)
    start = np.column_stack([np.full_like(ring, hub), after, ring])
    end = np.column_stack([np.full_like(ring, hub + 1), last + ring, last + after])
    return np.concatenate([strips, start, end]).astype(np.int32, copy=False)


def _locked(vertices: Array, faces: Faces) -> Mesh:
    for array in (vertices, faces):
        array.setflags(write=False)
    return Mesh(vertices, faces)
