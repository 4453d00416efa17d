"""The coils' tube to the last digit, the errors of the points, and from where to where it goes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.recovery.coiled.helix import HelixTube, scale_of

Ints = npt.NDArray[np.intp]

_TURN = 2 * np.pi
# the least error that points are taken to have, in wire radii: coordinates are rounded
LEAST = 2e-6
_BINS = 24
_PRESENT = 0.4
# points of half a turn that tell how far they lie off
_FEW = 12
# where a quarter of the points lie nearer than a quarter of the half turns by this share, most half
# turns are not the body's
_NEARER = 0.5
# share of the points that a half turn of the body has, from which another is one too
_CERTAIN = 0.6
# the least coils that make a spring, and how far half of its points may lie off, over r
_TURNS, _BELIEVED = 1.5, 0.22
# how far off a tube the points at one place about it may lie all alike, over r
_ALIKE = 0.08


@dataclass(frozen=True, eq=False)
class Body:
    """The coils, from azimuth ``low`` to ``high``, rad.

    ``noise``, mm, is the standard error of the points, as they scatter about the surface;
    ``errors`` (8,) are those of the numbers of `HelixTube.moved`, by the scatter alone.
    """

    tube: HelixTube
    low: float
    high: float
    noise: float
    errors: Array

    @property
    def turns(self) -> float:
        """Coils between the ends."""
        return (self.high - self.low) / _TURN


def fitted_body(tube: HelixTube, points: Array, within: tuple[float, float] | None = None) -> Body:
    """Return the body whose tube fits the points of its own coils.

    Where coils touch, a point in the valley between them cannot be told to either: only points
    that are far from the next coil count. The wire is the radius of least error less what
    errors along the surface add to a distance, σ²/2r.

    ``within``: azimuths, rad, between which the wire is known to be body.
    """
    low, high = (-np.inf, np.inf) if within is None else within
    noise = 0.1 * tube.wire_radius
    if within is None:
        # coils that an end winds, each a little less wide, would draw the body's with them
        low, high = inner(tube, points)
    errors = np.full(8, np.inf)
    for i in range(20):
        x = tube.local(points)
        t, away = tube.foot(x)
        gone = np.linalg.norm(away, axis=1)
        off = gone - tube.wire_radius - noise**2 / (2 * tube.wire_radius)
        own = (t > low) & (t < high) & (np.abs(off) < max(5 * noise, 1e-4 * tube.wire_radius))
        own &= clear_of_next(tube, t, away, gone, noise)
        if own.sum() < 40:
            break
        slopes = tube.slopes(x[own], t[own], away[own])
        step, scale, errors = _step(slopes, off[own], noise, tube)
        # slowly, or the points that count would be lost before the tube has come to them
        noise = max(scale, 0.2 * noise)
        tube = tube.moved(step)
        if i in (2, 5) and within is None:
            low, high = inner(tube, points)
        if i > 4 and np.abs(slopes @ step).max() < 1e-9 * tube.wire_radius:
            break
    if within is None:
        least, most = inner(tube, points)
        low, high = extent(tube, points, noise)
        if np.isfinite(least):
            low, high = max(low, least - np.pi), min(high, most + np.pi)
            first, last = _beyond_holes(tube, points, low, high)
            low = first if low - first > _TURN else low
            high = last if last - high > _TURN else high
    return Body(tube, low, high, noise, errors)


def believed(body: Body, points: Array) -> bool:
    """Return whether the points about the coils lie on a tube, rather than on anything else.

    Half of a scan's points err by less than a fifth of the wire's radius; half of those on a
    plane or a ball through a tube by a third of it. A pipe or a thread lies near a tube too, but
    outside it here and inside it there, the same at each place about the wire.
    """
    tube = body.tube
    r = tube.wire_radius
    if body.turns < _TURNS or not 0.1 * tube.pitch < r < 0.56 * tube.pitch:
        return False
    x = tube.local(points)
    t, away = tube.foot(x)
    rho = np.hypot(x[:, 0], x[:, 1])
    own = (t > body.low) & (t < body.high) & (np.abs(rho - tube.coil_radius) < 2 * r)
    if own.sum() < _FEW:
        return False
    off = np.linalg.norm(away[own], axis=1) / r - 1
    if np.median(np.abs(off)) > _BELIEVED:
        return False
    about = np.arctan2(away[own, 2], rho[own] - tube.coil_radius) / _TURN + 0.5
    cell = np.floor(about * 12).astype(np.intp) % 12 * 6
    cell += np.floor(t[own] / _TURN * 6).astype(np.intp) % 6
    near = np.abs(off) < 1
    off, cell = off[near], cell[near]
    count = np.bincount(cell, minlength=72)
    middle = np.array([np.median(off[cell == k]) if count[k] > _FEW else 0.0 for k in range(72)])
    scatter = 1.4826 * float(np.median(np.abs(off - middle[cell])))
    same = float(np.sqrt((middle[cell] ** 2).mean()))
    return same < max(_ALIKE, 0.8 * scatter)


def inner(tube: HelixTube, points: Array) -> tuple[float, float]:
    """Return the azimuths between which the coils are body for certain, all where none are.

    By half turns: where the wire winds narrower or leaves the coils, its points lie further off
    the tube, half of them, than those of most half turns do.
    """
    alike, _ = _alike(tube, points)
    if len(alike) < 3:
        return -np.inf, np.inf
    return float(alike[0]) * np.pi + 0.3, float(alike[-1] + 1) * np.pi - 0.3


def _usual(off: Array, n: Ints) -> float:
    """Return how far points lie off the tube in a half turn of the body, mm.

    A quarter of the half turns lie nearer; where these are mostly none of the body, for hooks are
    far longer than it, those with a quarter of the points do.
    """
    by_turns = float(np.quantile(off, 0.25))
    order = np.argsort(off)
    by_points = float(off[order][np.searchsorted(np.cumsum(n[order]), 0.25 * n.sum())])
    return by_points if by_points < _NEARER * by_turns else by_turns


def _alike(tube: HelixTube, points: Array) -> tuple[Ints, Ints]:
    """Return the longest run of half turns that are alike, by number, and the points of each."""
    r, none = tube.wire_radius, np.zeros(0, dtype=np.intp)
    t, away = tube.foot(tube.local(points))
    off = np.abs(np.linalg.norm(away, axis=1) - r)
    on = off < r
    if on.sum() < _FEW:
        return none, none
    half = np.floor(t[on] / np.pi).astype(np.intp)
    first = int(half.min())
    order = np.argsort(half, kind="stable")
    parts = np.split(off[on][order], np.cumsum(np.bincount(half - first))[:-1])
    n = np.array([len(p) for p in parts])
    seen = np.flatnonzero(n >= max(_FEW, 0.05 * float(np.median(n[n > 0]))))
    if not len(seen):
        return none, none
    off_by = np.array([np.median(parts[k]) for k in seen])
    # a median of few points is not known well
    usual = _usual(off_by, n[seen]) * (1.3 + 3 / np.sqrt(n[seen])) + 0.01 * r
    alike = seen[off_by <= usual]
    # runs of them, over half turns that were not seen, but over no other
    breaks = np.flatnonzero(np.diff(np.searchsorted(seen, alike)) > 1)
    breaks = np.union1d(breaks, np.flatnonzero(np.diff(alike) > 3)) + 1
    run = max(np.split(alike, breaks), key=len)
    return first + run, n[run]


def _beyond_holes(tube: HelixTube, points: Array, low: float, high: float) -> tuple[float, float]:
    """Return the azimuths moved out to half turns that are coils for certain.

    Holes of a scan, one beside the other, leave less of some coils than of a leg that crosses
    them; but of a leg no half turn has nearly as many points as those of the coils.
    """
    half, n = _alike(tube, points)
    of_body = (half * np.pi > low - 1) & ((half + 1) * np.pi < high + 1)
    sure = np.zeros(len(half), dtype=bool)
    for side in (0, 1):  # of a scan from one side every other half turn may have few
        here = half % 2 == side
        if (here & of_body).any():
            sure |= here & (n > _CERTAIN * np.median(n[here & of_body]))
    if not sure.any():
        return low, high
    return min(low, half[sure][0] * np.pi), max(high, (half[sure][-1] + 1) * np.pi)


def _step(slopes: Array, off: Array, noise: float, tube: HelixTube) -> tuple[Array, float, Array]:
    """Return one Gauss–Newton step, by Tukey's weights, the scale of what is left, and errors."""
    scale = scale_of(off - np.median(off), LEAST * tube.wire_radius)
    inner = np.clip(off / (4.685 * max(scale, 0.3 * noise)), -1, 1)
    weight = (1 - inner**2) ** 2
    A = slopes * np.sqrt(weight)[:, None]
    size = np.maximum(np.linalg.norm(A, axis=0), 1e-12)
    solved, *_ = np.linalg.lstsq(A / size, -np.sqrt(weight) * off, rcond=1e-10)
    step = solved / size
    reach = float(np.abs(slopes @ step).max()) / (0.3 * tube.wire_radius)
    inverse = np.linalg.pinv((A / size).T @ (A / size), rcond=1e-10)
    errors = scale * np.sqrt(np.maximum(np.diag(inverse), 0.0)) / size
    return step / max(1.0, reach), scale, errors


def clear_of_next(
    tube: HelixTube, t: Array, away: Array, gone: Array, noise: float
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Return which points, by their angle about the wire alone, are far from the next coil.

    By the angle and not by the distance: the errors of the distance must not choose.
    """
    r = tube.wire_radius
    rise = tube.pitch / (_TURN * tube.coil_radius)
    c, s = np.cos(t), np.sin(t)
    # across the wire and along the surface of the cylinder
    across = (away[:, 2] - rise * (away[:, 1] * c - away[:, 0] * s)) / np.hypot(1, rise)
    sine = across / np.maximum(gone, 1e-12)
    apart = tube.pitch / np.hypot(1, rise)
    most = (apart**2 + r**2 - (r + 3 * noise) ** 2) / (2 * apart * r)
    return np.asarray(np.abs(sine) < max(0.5, min(1.1, most)))


def extent(tube: HelixTube, points: Array, noise: float) -> tuple[float, float]:
    """Return the azimuths, rad, between which the coils have points.

    How many points a stretch of wire should have follows from the other coils at the same
    azimuth, since a scan may not see all sides; the ends are where the sum of what is there,
    less a share of what should be, is greatest.
    """
    t, away = tube.foot(tube.local(points))
    off = np.linalg.norm(away, axis=1) - tube.wire_radius
    on = np.abs(off) < max(3 * noise, 0.12 * tube.wire_radius)
    if on.sum() < 10:
        return 0.0, 0.0
    bins = np.floor(t[on] / _TURN * _BINS).astype(np.intp)
    first = int(bins.min())
    count = np.bincount(bins - first).astype(float)
    pad = -len(count) % _BINS
    count = np.concatenate([count, np.zeros(pad)])
    turn = np.convolve(count, np.ones(_BINS), mode="same")
    core = int(np.argmax(np.convolve(turn, np.ones(3 * _BINS), mode="same")))
    # not those that a leg along the coils' cylinder crosses, of which there may be more
    full = turn > 0.5 * np.quantile(turn[turn > 0.25 * turn.max()], 0.8)
    due = np.zeros(_BINS)
    for k in range(_BINS):
        there = count[k::_BINS][full[k::_BINS]]
        due[k] = there.mean() if len(there) else turn.max() / _BINS
    due = np.maximum(due, 0.02 * due.mean())
    due = due[np.arange(len(count)) % _BINS]
    # no coil counts for more than it should have: a hook may cross here
    there = np.minimum(count, due)
    # where a scan has holes, that much of the coils is missing too
    whole = float(there[full].sum() / due[full].sum()) if full.any() else 1.0
    gain = there - _PRESENT * whole * due
    up, down = np.cumsum(gain[core:]), np.cumsum(gain[:core][::-1])
    high = core + int(np.argmax(up)) + 1
    low = core - (int(np.argmax(down)) + 1 if len(down) and down.max() > 0 else 0)
    return (first + low) * _TURN / _BINS, (first + high) * _TURN / _BINS
