"""Points that one strand of wire alone can have: in a valley they may be either's."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.errors import SpecError
from springgeo.recovery.coiled.body import clear_of_next
from springgeo.recovery.coiled.helix import HelixTube
from springgeo.recovery.end.fit import Candidate, EndPoints, built

# errors of a point, in its standard errors, and below which error of the wire's radius none counts
_FAR, _EXACT = 3.0, 0.01
# wire, in its radii, on either side of a place that is the same strand; of the body's end less:
# the coils go straight on there
_STRAND, _SAME = 4.0, 2.0
# stations looked at, so many times as many as the wire has
_NEAREST, _FINER = 12, 3


def clear_points(c: Candidate, data: EndPoints) -> EndPoints:
    """Return the points whose place about the wire of a candidate is far from other strands.

    A point between two strands is taken for the nearer one's, so that its distance comes out too
    small, and the wire would be moved. Which points are left is chosen by their angle about the
    wire alone.
    """
    wire = built(c, data.end)
    if isinstance(wire, SpecError) or data.noise < _EXACT * data.wire:
        return data
    r, reach = data.wire, data.wire + _FAR * data.noise
    x = data.turned(c.delta)
    feet = wire.feet(x)
    gone = np.maximum(np.linalg.norm(feet.away, axis=1), 1e-12)
    foot = x - feet.away
    surface = foot + feet.away * (r / gone)[:, None]
    point, _, _, s = wire.at(tuple(_FINER * n for n in wire.counts))
    on_end = feet.s > 0
    keep = np.ones(len(x), dtype=bool)
    keep[on_end] = _apart(surface[on_end], point[s < -_SAME * r], reach)
    # and coils that the end winds, from one another
    keep[on_end] &= _apart_from_own(surface[on_end], feet.s[on_end], point, s, reach, r)
    keep[~on_end] = _apart(surface[~on_end], point[s > _SAME * r], reach)
    tube = HelixTube(np.eye(3), np.zeros(3), data.end.coil_radius, data.end.pitch, r, 1)
    azimuth = np.arctan2(foot[:, 1], foot[:, 0])
    keep &= on_end | clear_of_next(tube, azimuth, feet.away, gone, data.noise)
    if keep.sum() < 0.1 * len(x):
        return data
    return data.only(keep)


def _apart(x: Array, strand: Array, reach: float) -> Array:
    """Return which places are further than ``reach`` from a strand."""
    from scipy.spatial import cKDTree

    if not len(x) or not len(strand):
        return np.ones(len(x), dtype=bool)
    gap, _ = cKDTree(strand).query(x, distance_upper_bound=reach)
    result: Array = ~np.isfinite(gap)
    return result


def _apart_from_own(
    x: Array, own: Array, point: Array, s: Array, reach: float, r: float
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Return which places are far from all wire but that about their own arc length ``own``."""
    from scipy.spatial import cKDTree

    if not len(x):
        return np.ones(0, dtype=bool)
    k = min(_NEAREST, len(point))
    gap, near = cKDTree(point).query(x, k=k, distance_upper_bound=reach)
    at = np.append(s, np.nan)[near]
    result: np.ndarray[tuple[int], np.dtype[np.bool_]]
    result = ~(np.isfinite(gap) & (np.abs(at - own[:, None]) > _STRAND * r)).any(axis=1)
    return result
