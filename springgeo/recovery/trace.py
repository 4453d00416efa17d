"""Follows the wire of an end that is like no style: its raw centreline, point by point."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from pydantic import ValidationError

from springgeo.curve.frame import Array
from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.recovery.end.fit import EndPoints

# in wire radii: one step, half the slab that is looked at, how far to go on without points
_STEP, _SLAB, _GAP = 0.5, 0.8, 9.0
_FEWEST, _MOST = 6, 2000
# in wire radii: how far the wire may be off the coils' helix and still be body
_BODY = 0.12


@dataclass(frozen=True, eq=False)
class Trace:
    """A centreline as followed; mm, rad.

    ``delta``: how much further on than thought the body ends; ``points`` (n, 3), from the last
    point of the coil outward, less that point, in the frame of the body end; ``unseen``: wire
    that was bridged without points.
    """

    delta: float
    points: Array
    unseen: float


# how much more than usual what was followed is smoothed, until wire can be bent so
_SMOOTHER = 1.0, 4.0, 16.0, 64.0


def traced(data: EndPoints) -> Trace | None:
    """Return the wire followed from the coils to where its points end; None if it cannot be.

    Smoothed as little as it takes for wire to follow it.
    """
    line = _followed(data)
    if line is None:
        return None
    found = None
    for smoother in _SMOOTHER:
        found = _from_body(*line, data, smoother)
        if found is None or _can_be_made(found, data):
            break
    return found


def _can_be_made(found: Trace, data: EndPoints) -> bool:
    style = registry.get("traced")
    try:
        style.shape(registry.parameters(style, {"points": found.points.tolist()}), data.end)
    except (SpecError, ValidationError):
        return False
    return True


def _followed(data: EndPoints) -> tuple[Array, Array] | None:
    """Return points along the wire, and which of them were seen."""
    from scipy.spatial import cKDTree

    r, end = data.wire, data.end
    start = -0.7 * 2 * math.pi
    x = _ahead_of(data, start)
    if len(x) < _FEWEST:
        return None
    tree = cKDTree(x)
    rise = end.pitch / (2 * math.pi)
    c = np.array(
        [end.coil_radius * math.cos(start), end.coil_radius * math.sin(start), rise * start]
    )
    t = np.array([-math.sin(start) * end.coil_radius, math.cos(start) * end.coil_radius, rise])
    t /= np.linalg.norm(t)
    bent = np.array([-math.cos(start), -math.sin(start), 0.0]) / end.coil_radius
    line, seen = [c], [True]
    blind = 0.0
    for _ in range(_MOST):
        ahead = c + _STEP * r * t + bent * (_STEP * r) ** 2 / 2
        along = t + bent * _STEP * r
        along /= np.linalg.norm(along)
        centre = _centre(x, tree, ahead, along, r)
        if centre is None:
            blind += _STEP * r
            if blind > _GAP * r:
                break
            centre = ahead
        else:
            blind = 0.0
        line.append(centre)
        seen.append(blind == 0.0)
        c, t, bent = _ahead(np.array(line), r, along)
    while line and not seen[-1]:
        line.pop(), seen.pop()
    if len(line) < 6:
        return None
    return np.array(line), np.array(seen)


def _ahead_of(data: EndPoints, start: float) -> Array:
    """Return the points that are not the coils' before ``start``, rad.

    Where the wire ends beside the next coil, it would be followed back along that.
    """
    r, end = data.wire, data.end
    x, y, z = data.x.T
    rise = end.pitch / (2 * math.pi)
    last = start - 2 * r / end.coil_radius
    azimuth = np.arctan2(y, x)
    # of the coils up to there, the nearest at the point's azimuth
    turns = np.minimum(
        np.round((z / rise - azimuth) / (2 * math.pi)),
        np.floor((last - azimuth) / (2 * math.pi)),
    )
    height = (z - rise * (azimuth + 2 * math.pi * turns)) / math.hypot(1, rise / end.coil_radius)
    away = np.hypot(np.hypot(x, y) - end.coil_radius, height)
    ahead: Array = data.x[away > 1.05 * r + 2.5 * data.noise]
    return ahead


def _centre(x: Array, tree: object, ahead: Array, along: Array, r: float) -> Array | None:
    """Return the middle of the wire near ``ahead``, of known radius, from the points about it."""
    near = tree.query_ball_point(ahead, 1.9 * r)  # type: ignore[attr-defined]
    if len(near) < _FEWEST:
        return None
    v = x[near] - ahead
    depth = v @ along
    across = v - depth[:, None] * along
    keep = np.abs(depth) < _SLAB * r
    if keep.sum() < _FEWEST:
        return None
    first = np.cross(along, np.eye(3)[int(np.argmin(np.abs(along)))])
    first /= np.linalg.norm(first)
    second = np.cross(along, first)
    flat = np.column_stack([across[keep] @ first, across[keep] @ second])
    shift = np.zeros(2)
    for i in range(8):
        d = flat - shift
        gone = np.maximum(np.linalg.norm(d, axis=1), 1e-9)
        off = gone - r
        scale = (0.6 if i < 3 else 0.35) * r
        weight = (1 - np.clip(off / scale, -1, 1) ** 2) ** 2
        n = d / gone[:, None]
        normal = (n * weight[:, None]).T @ n + 0.05 * weight.sum() * np.eye(2) + 1e-9 * np.eye(2)
        step = np.linalg.solve(normal, (n * weight[:, None]).T @ off)
        shift = shift + np.clip(step, -0.3 * r, 0.3 * r)
    if np.linalg.norm(shift) > 0.9 * r or (weight > 0.2).sum() < _FEWEST:
        return None
    return np.asarray(ahead + shift[0] * first + shift[1] * second)


def _ahead(line: Array, r: float, along: Array) -> tuple[Array, Array, Array]:
    """Return place, direction and curvature at the end of the line, by a parabola through it."""
    some = line[-9:]
    if len(some) < 4:
        return line[-1], along, np.zeros(3)
    s = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(some, axis=0), axis=1))])
    s = s - s[-1]
    A = np.vander(s, 3, increasing=True)
    weight = np.exp(s / (3 * r))[:, None]
    coefficients, *_ = np.linalg.lstsq(A * weight, some * weight, rcond=None)
    t = coefficients[1] / np.linalg.norm(coefficients[1])
    bent = 2 * coefficients[2]
    bent = bent - t * (bent @ t)
    size = float(np.linalg.norm(bent))
    limit = 0.6 / r
    return coefficients[0], t, bent * min(1.0, limit / max(size, 1e-12))


def _from_body(line: Array, seen: Array, data: EndPoints, smoother: float) -> Trace | None:
    """Return what leaves the helix of the coils, smoothed, as points some wire apart."""
    from scipy.interpolate import make_smoothing_spline

    r, end = data.wire, data.end
    theta = np.unwrap(np.arctan2(line[:, 1], line[:, 0]))
    theta += -0.7 * 2 * math.pi - theta[0]
    rise = end.pitch / (2 * math.pi)
    helix = np.column_stack(
        [end.coil_radius * np.cos(theta), end.coil_radius * np.sin(theta), rise * theta]
    )
    away = np.linalg.norm(line - helix, axis=1)
    away = np.convolve(np.pad(away, 1, mode="edge"), np.ones(3) / 3, mode="valid")
    off = np.flatnonzero(away > max(_BODY * r, 3 * data.noise))
    first = int(off[0]) if len(off) else len(line) - 1
    first = max(1, first - 2)
    delta = float(theta[first])
    rest = line[first:]
    if len(rest) < 5:
        return None
    s = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(rest, axis=0), axis=1))])
    # a place that wavers by the points' error is no bend
    lam = smoother * 0.02 * r**3 * (1 + 20 * data.noise / r)
    smooth = np.column_stack([make_smoothing_spline(s, rest[:, k], lam=lam)(s) for k in range(3)])
    last = np.linspace(0, s[-1], max(3, int(s[-1] / (1.5 * r)) + 1))[1:]
    points = np.column_stack([np.interp(last, s, smooth[:, k]) for k in range(3)])
    c, q = math.cos(delta), math.sin(delta)
    turned = points @ np.array([[c, -q, 0], [q, c, 0], [0, 0, 1.0]])
    turned[:, 2] -= rise * delta
    turned[:, 0] -= end.coil_radius
    unseen = float(np.sum(seen[first:] == 0)) * _STEP * r
    return Trace(delta, turned, unseen)
