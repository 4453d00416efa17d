"""Measures a finished path like a part on a bench: from sampled points, with no closed form.

Only ``Path.point`` and ``Path.tangent`` are asked; what the end styles state is not looked at.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.spatial import cKDTree

from springgeo.curve import Path, Piece

Array = npt.NDArray[np.float64]
UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True)
class Circle:
    """A circle through sampled points: mm; ``misfit`` is the greatest distance of a point."""

    centre: Array
    radius: float
    normal: Array
    misfit: float


@dataclass(frozen=True)
class Hook:
    """One hook as measured: mm; ``plane`` is the normal of the loop's plane.

    ``loops`` are the circles of the loop's curved pieces: one for a round loop, one for each
    corner of a hook with a straight top.
    """

    loops: list[Circle]
    bend_radius: float
    length: float
    opening: float
    plane: Array
    off_axis: float


def points(pieces: list[Piece], count: int = 400) -> Array:
    """Return points along pieces, ``(n, 3) mm``."""
    return np.concatenate(
        [p.segment.point(np.linspace(0.0, p.segment.length, count)) for p in pieces]
    )


def fit_circle(xyz: Array) -> Circle:
    """Return the circle of least squares: best plane first, then centre and radius in it."""
    middle = xyz.mean(axis=0)
    _, _, axes = np.linalg.svd(xyz - middle, full_matrices=False)
    flat = (xyz - middle) @ axes.T
    scale = float(np.abs(flat).max())
    u, v = flat[:, 0] / scale, flat[:, 1] / scale
    design = np.column_stack([2 * u, 2 * v, np.ones_like(u)])
    (cu, cv, rest), *_ = np.linalg.lstsq(design, u**2 + v**2, rcond=None)
    radius = scale * math.sqrt(rest + cu**2 + cv**2)
    centre = middle + scale * (cu * axes[0] + cv * axes[1])
    away = np.hypot(scale * (u - cu), scale * (v - cv)) - radius
    misfit = float(max(np.abs(away).max(), np.abs(flat[:, 2]).max()))
    return Circle(centre, radius, axes[2], misfit)


def bend_radius(piece: Piece) -> float:
    """Return the radius of a bend, mm: on its cylinder unrolled if it lies on one, else in space.

    A bend on the coil's cylinder keeps its distance to the axis.
    """
    xyz = points([piece])
    away = np.hypot(xyz[:, 0], xyz[:, 1])
    if np.ptp(away) < 1e-9 * away.mean():
        around = np.unwrap(np.arctan2(xyz[:, 1], xyz[:, 0])) * away.mean()
        xyz = np.column_stack([around, xyz[:, 2], np.zeros(len(xyz))])
    circle = fit_circle(xyz)
    assert circle.misfit < 1e-8 * circle.radius, "the bend is no circle"
    return circle.radius


def hook(path: Path, side: str, diameter: float) -> Hook:
    """Return the measures of the hook at ``side``; +z is turned to point out of the spring."""
    out = 1.0 if side == "second" else -1.0
    pieces = [p for p in path.pieces if p.label.startswith(f"{side}.")]
    if side == "first":  # from the body outward, as at end B
        pieces = list(Path(pieces).reversed().pieces)
    body = next(p for p in path.pieces if p.role == "body")
    last = body.segment.point(np.array([0.0 if side == "first" else body.segment.length]))[0]
    face = out * float(last[2]) + diameter / 2
    loop = [p for p in pieces if p.role == "loop"]
    wire = Path(pieces)
    s = np.linspace(0.0, wire.length, 20001)
    apex = refine_highest(wire, s, out)
    whole = points(loop)
    plane = _normal(whole)
    return Hook(
        loops=[fit_circle(points([p])) for p in loop if not _straight(points([p]))],
        bend_radius=bend_radius(next(p for p in pieces if p.role == "bend")),
        length=apex - diameter / 2 - face,
        opening=_lowest_of_cut(wire, out, diameter) - face,
        plane=plane,
        off_axis=abs(float(plane @ (whole.mean(axis=0) - last[2] * UP))),
    )


def _normal(xyz: Array) -> Array:
    """Return the normal of the best plane through points."""
    axes: Array = np.linalg.svd(xyz - xyz.mean(axis=0), full_matrices=False)[2]
    return axes[2]


def _straight(xyz: Array) -> bool:
    chord = xyz[-1] - xyz[0]
    away = np.linalg.norm(np.cross(xyz - xyz[0], chord), axis=1) / np.linalg.norm(chord)
    return bool(away.max() < 1e-9 * np.linalg.norm(chord))


def refine_highest(wire: Path, s: Array, out: float) -> float:
    """Return the greatest height of a wire, mm: a parabola through the three highest samples."""
    z = out * wire.point(s)[:, 2]
    i = int(np.clip(np.argmax(z), 1, len(s) - 2))
    low, top, high = z[i - 1 : i + 2]
    bow = low - 2 * top + high
    return float(top - (high - low) ** 2 / (8 * bow)) if bow < 0 else float(top)


def _lowest_of_cut(wire: Path, out: float, diameter: float) -> float:
    """Return the lowest height of the disc that ends the wire, mm, from points on its rim."""
    end = np.array([wire.length])
    centre, tangent = wire.point(end)[0], wire.tangent(end)[0]
    across = np.cross(tangent, UP)
    across = np.cross(tangent, [1.0, 0.0, 0.0]) if np.linalg.norm(across) < 0.5 else across
    across /= np.linalg.norm(across)
    other = np.cross(tangent, across)
    turn = np.linspace(0.0, 2 * np.pi, 72001)[:, None]
    rim = centre + diameter / 2 * (np.cos(turn) * across + np.sin(turn) * other)
    return float((out * rim[:, 2]).min())


def plane_angle(a: Array, b: Array) -> float:
    """Return the angle from plane A to plane B about +z, rad, 0 ≤ angle < π, from normals."""
    return float(np.arctan2(np.cross(a, b)[2], a @ b) % np.pi)


def least_distance(path: Path, diameter: float, step: float) -> float:
    """Return the least distance of hook wire to wire more than 3 d along, mm, from dense points.

    Samples ``step`` mm apart see at most ``step``²/(4 · distance) more than the true distance.
    """
    samples = path.sample(step)
    outside = np.array([p.role != "body" for p in path.pieces])[samples.index]
    tree = cKDTree(samples.point)
    best = math.inf
    for i in np.flatnonzero(outside):
        near = np.array(tree.query_ball_point(samples.point[i], 2 * diameter))
        far = near[np.abs(samples.s[near] - samples.s[i]) >= 3 * diameter]
        if len(far):
            gap = np.linalg.norm(samples.point[far] - samples.point[i], axis=1)
            best = min(best, float(gap.min()))
    return best
