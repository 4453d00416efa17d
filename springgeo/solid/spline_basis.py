"""B-spline basis on a uniform clamped knot row: the algebra under the tube's free faces."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from springgeo.curve.frame import Array

DEGREE = 7


def clamped_knots(spans: int) -> Array:
    """Return the full knot row on 0..1, ends repeated: ``(spans + 2 DEGREE + 1,) float``."""
    inner = np.arange(1, spans) / spans
    return np.concatenate([np.zeros(DEGREE + 1), inner, np.ones(DEGREE + 1)])


def basis(knots: Array, x: Array) -> Array:
    """Return every basis function at every ``x``, ``(len(x), len(knots) − DEGREE − 1) float``.

    Cox and de Boor's recurrence; the last knot belongs to the last span.
    """
    last = np.flatnonzero(knots[:-1] < knots[1:])[-1]
    span = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, last)
    value: Array = np.zeros((len(x), len(knots) - 1))
    value[np.arange(len(x)), span] = 1.0
    for p in range(1, DEGREE + 1):
        width = knots[p:] - knots[:-p]
        over = np.divide(1.0, width, out=np.zeros_like(width), where=width > 0)
        rise = (x[:, None] - knots[: -p - 1]) * over[:-1]
        fall = (knots[p + 1 :] - x[:, None]) * over[1:]
        value = rise * value[:, :-1] + fall * value[:, 1:]
    return value


@lru_cache(maxsize=64)
def greville(spans: int) -> Array:
    """Return the interpolation points on 0..1: the mean of each ``DEGREE`` successive knots."""
    knots = clamped_knots(spans)
    windows = np.lib.stride_tricks.sliding_window_view(knots[1:-1], DEGREE)
    points: Array = np.clip(windows.mean(axis=1), 0.0, 1.0)
    return points


@lru_cache(maxsize=64)
def interpolation(spans: int) -> Array:
    """Return the matrix from values at the Greville points to spline coefficients."""
    return np.asarray(np.linalg.inv(basis(clamped_knots(spans), greville(spans))), dtype=float)


@lru_cache(maxsize=64)
def probe(spans: int) -> tuple[Array, Array]:
    """Return points between the interpolation points, and the basis there.

    The places where an interpolating spline is at its worst.
    """
    g = greville(spans)
    x = np.concatenate([(g[:-1] + g[1:]) / 2, np.linspace(0.0, 1.0, 2 * spans + 1)])
    return x, basis(clamped_knots(spans), x)
