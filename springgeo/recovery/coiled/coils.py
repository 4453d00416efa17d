"""Finds the coils in a cloud of points: every likely axis and pitch is fitted, the best is kept."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.recovery.coiled.axis import axes
from springgeo.recovery.coiled.body import inner
from springgeo.recovery.coiled.fold import folded
from springgeo.recovery.coiled.helix import HelixTube, fitted
from springgeo.recovery.sections import by_sections

_AXES, _PITCHES, _KEPT = 4, 4, 3
_ROUGH, _FINE = 1500, 6000
# a score from which no other start is tried, and the least that is believed
SURE, LEAST = 0.2, 0.1
# so many choices where nothing is like coils, and where something is but little
_TRIES, _MORE = 3, 6
# so many other pitches are looked at where coils are not found at once, and how far apart
_OTHERS, _APART = 4, 0.1
# and so many that the fit was lost from
_LOST = 2


def find_coils(points: Array, go: int = 0) -> list[tuple[HelixTube, float]]:
    """Return tubes of the coils and their scores, best first, each from a choice of points.

    ``go``: 0 until one seems sure; 1, where that was none, from the first choices all; 2, where
    none of those was one, from the others.
    """
    found: list[tuple[HelixTube, float]] = []
    for seed in range(_TRIES if go == 2 else 0, _MORE):
        one = coils_of(points, seed, go > 0 or seed > 0)
        if one is not None:
            found.append(one)
        so_far = max((s for _, s in found), default=-1.0)
        tried = seed + 1 >= _TRIES
        if go < 2 and ((tried and so_far < LEAST) or (so_far >= SURE and (go == 0 or tried))):
            break
    return sorted(found, key=lambda f: -f[1])


def coils_of(points: Array, seed: int, wide: bool = False) -> tuple[HelixTube, float] | None:
    """Return the tube of the coils, and a score: how much it tells of where points lie.

    Parameters
    ----------
    points : (n, 3) float, mm
        On the surface, with errors, gaps, and others between.
    seed : int
        Of the choice of points looked at; the same seed, the same answer.
    wide : bool
        Whether sections are cut at other pitches than the best one's too.
    """
    rng = np.random.default_rng(seed)
    some = points[rng.permutation(len(points))[:_ROUGH]]
    found, lost = [], []
    for axis in axes(points, rng, _AXES):
        for start in folded(points, axis, rng, _PITCHES):
            tube = fitted(start, some, 8, floor=0.02)
            found.append((score(tube, some), tube))
            if found[-1][0] < 0:
                lost.append(start)
    if not found:
        return None
    found.sort(key=lambda f: -f[0])
    best = []
    for _, rough in found[:_KEPT]:
        tube = fitted(rough, some, 15, floor=0.005)
        best.append((score(tube, some), tube))
    _, tube = max(best, key=lambda f: f[0])
    others = _other_pitches(tube, [t for _, t in found]) if wide else []
    if wide and score(tube, some) < LEAST:
        # pitches that tell much, but from a wire too thick the fit ran away from the coils
        others += lost[:_LOST]
    cut = [
        fitted(start, some, 12, floor=0.005)
        for pitched in (tube, *others)
        for start in by_sections(pitched, some, rng)
    ]
    tube = max([tube, *cut], key=lambda t: score(t, some))
    fine = points[rng.permutation(len(points))[:_FINE]]
    tube = fitted(tube, fine, 15)
    tube = max(tube, _of_its_own(tube, fine), key=lambda t: score(t, fine))
    return tube, score(tube, fine)


def _other_pitches(best: HelixTube, ranked: list[HelixTube]) -> list[HelixTube]:
    """Return the next best tubes whose pitches differ from each other's."""
    kept = [best]
    for t in ranked:
        if all(t.hand != k.hand or abs(t.pitch / k.pitch - 1) > _APART for k in kept):
            kept.append(t)
    return kept[1 : 1 + _OTHERS]


def _of_its_own(tube: HelixTube, points: Array) -> HelixTube:
    """Return the tube fitted to the points of its own coils: those of hooks pull a short body."""
    low, high = inner(tube, points)
    t, _ = tube.foot(tube.local(points))
    return fitted(tube, points[(t > low) & (t < high)], 15)


def score(tube: HelixTube, points: Array) -> float:
    """Return how much better a point's place is known by the tube than without it, nats.

    Of the points about the coils a share f lies within s of the surface, which takes a share a
    of the space there: f ln(f/a) + (1 − f) ln((1 − f)/(1 − a)), for the s that gives most.
    """
    if not (
        0.1 * tube.pitch < tube.wire_radius < 0.56 * tube.pitch
        and tube.wire_radius < 0.4 * tube.coil_radius
    ):
        return -1.0
    x = tube.local(points)
    _, away = tube.foot(x)
    off = np.abs(np.linalg.norm(away, axis=1) - tube.wire_radius)
    about = np.abs(np.hypot(x[:, 0], x[:, 1]) - tube.coil_radius) < 2 * tube.wire_radius
    if not about.any():
        return -1.0
    space = 4 * tube.wire_radius * tube.pitch
    best = -1.0
    for s in (0.02, 0.05, 0.1, 0.2, 0.3):
        f = float((off[about] < s * tube.wire_radius).mean())
        a = 2 * np.pi * tube.wire_radius * 2 * s * tube.wire_radius / space
        if 0 < a < f < 1:
            best = max(best, f * np.log(f / a) + (1 - f) * np.log((1 - f) / (1 - a)))
        elif f == 1 and a < 1:
            best = max(best, -np.log(a))
    return best * float(about.mean())
