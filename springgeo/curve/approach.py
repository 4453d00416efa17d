"""How near the wire comes to itself: the least distance between non-neighbouring wire."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.curve.helix import Helix, turn_distance, turn_offset
from springgeo.curve.path import Path

Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class Approach:
    """The nearest approach of two places on the wire.

    ``distance`` is between centrelines, mm; ``at`` are the two arc lengths, mm; ``labels`` name
    the pieces there.
    """

    distance: float
    at: tuple[float, float]
    labels: tuple[str, str]


def body_approach(path: Path) -> Approach | None:
    """Return the nearest approach of the body's own turns (exact), or None without a turn."""
    found = None
    for piece, start in path:
        seg = piece.segment
        if isinstance(seg, Helix) and piece.role == "body" and seg.turns > 1:
            distance = turn_distance(seg.radius, seg.pitch)
            if found is None or distance < found.distance:
                apart = seg.turn_length * (1 - turn_offset(seg.radius, seg.pitch) / (2 * np.pi))
                found = Approach(distance, (start, start + apart), (piece.label, piece.label))
    return found


def hook_approach(path: Path, diameter: float, reach: float = 2.0) -> Approach | None:
    """Return the nearest approach of any wire outside the body to any other wire.

    Wire closer than 3 ``diameter`` along the curve is its own neighbour and left out. Returns
    None where nothing comes within ``reach`` diameters.
    """
    samples = path.sample(diameter / 4)
    outside = np.array([p.role != "body" for p in path.pieces])[samples.index]
    pairs = _near_pairs(samples.s, samples.point, outside, diameter, reach * diameter)
    if not len(pairs):
        return None
    s, t = _refine(path, samples.s[pairs[:, 0]], samples.s[pairs[:, 1]])
    keep = np.abs(s - t) > 2.5 * diameter
    if not keep.any():
        return None
    s, t = s[keep], t[keep]
    distance = np.linalg.norm(path.point(s) - path.point(t), axis=1)
    i = int(np.argmin(distance))
    labels = tuple(path.pieces[j].label for j in path.find(np.array([s[i], t[i]])))
    return Approach(float(distance[i]), (float(s[i]), float(t[i])), (labels[0], labels[1]))


def _near_pairs(
    s: Array, point: Array, outside: Mask, diameter: float, reach: float
) -> npt.NDArray[np.intp]:
    """Return, for every hook station, its nearest non-neighbouring station within reach."""
    hooks = np.flatnonzero(outside)
    found = []
    for block in np.array_split(hooks, max(1, len(hooks) // 128)):
        if not len(block):
            continue
        low, high = point[block].min(axis=0) - reach, point[block].max(axis=0) + reach
        near = np.flatnonzero(np.all((point >= low) & (point <= high), axis=1))
        # squared distances by one product, good enough to choose the pairs to refine; not by
        # BLAS, whose threads cost more than they save
        here, there = point[block], point[near]
        gap = np.sum(here**2, axis=1)[:, None] + np.sum(there**2, axis=1)
        gap -= 2 * np.einsum("ik,jk->ij", here, there)
        gap[np.abs(s[block][:, None] - s[near]) < 3 * diameter] = np.inf
        pick = np.argmin(gap, axis=1)
        ok = gap[np.arange(len(block)), pick] < reach**2
        found.append(np.column_stack([block[ok], near[pick[ok]]]))
    return np.concatenate(found) if found else np.empty((0, 2), dtype=np.intp)


def _refine(path: Path, s: Array, t: Array) -> tuple[Array, Array]:
    """Return the pairs moved to the nearest local minimum of distance (damped Newton)."""
    for _ in range(12):
        d = path.point(s) - path.point(t)
        ts, tt = path.tangent(s), path.tangent(t)
        ks, kt = path.curvature(s), path.curvature(t)
        g1, g2 = np.sum(d * ts, axis=1), -np.sum(d * tt, axis=1)
        a = np.maximum(1 + np.sum(d * ks, axis=1), 0.1)
        c = np.maximum(1 - np.sum(d * kt, axis=1), 0.1)
        b = -np.sum(ts * tt, axis=1)
        det = a * c - b * b
        safe = det > 1e-4
        det = np.where(safe, det, 1.0)
        step_s = np.where(safe, (c * g1 - b * g2) / det, g1 / (2 * a))
        step_t = np.where(safe, (a * g2 - b * g1) / det, g2 / (2 * c))
        # a place held at the wire's end does not take part: the other one moves alone
        held_s, held_t = _held(path, s, g1), _held(path, t, g2)
        step_s, step_t = np.where(held_t, g1 / a, step_s), np.where(held_s, g2 / c, step_t)
        limit = np.linalg.norm(d, axis=1) / 2
        s = np.clip(s - np.clip(step_s, -limit, limit), 0.0, path.length)
        t = np.clip(t - np.clip(step_t, -limit, limit), 0.0, path.length)
    return s, t


def _held(path: Path, s: Array, slope: Array) -> Mask:
    """Return where going downhill would leave the wire at one of its ends."""
    result: Mask = ((s <= 0.0) & (slope > 0)) | ((s >= path.length) & (slope < 0))
    return result
