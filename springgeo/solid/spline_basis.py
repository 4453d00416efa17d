"""B-spline basis on a uniform clamped knot row: the algebra under the tube's free faces.

Degree 7 around the wire, 14 along it. Measured on a helix: one turn to 1e-7 d takes 19 rows of
control points with degree 7, 17 with 9, 16 with 11; with 13 it is one polynomial of 14 rows, and
with 14 one polynomial holds 1.2 turns. Round it, degree 7 takes fewest.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from springgeo.curve.frame import Array

AROUND, ALONG = 7, 14


def clamped_knots(spans: int, degree: int) -> Array:
    """Return the full knot row on 0..1, ends repeated: ``(spans + 2 degree + 1,) float``."""
    inner = np.arange(1, spans) / spans
    return np.concatenate([np.zeros(degree + 1), inner, np.ones(degree + 1)])


def basis(knots: Array, x: Array, degree: int) -> Array:
    """Return every basis function at every ``x``, ``(len(x), len(knots) − degree − 1) float``.

    Cox and de Boor's recurrence; the last knot belongs to the last span.
    """
    last = np.flatnonzero(knots[:-1] < knots[1:])[-1]
    span = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, last)
    value: Array = np.zeros((len(x), len(knots) - 1))
    value[np.arange(len(x)), span] = 1.0
    for p in range(1, degree + 1):
        width = knots[p:] - knots[:-p]
        over = np.divide(1.0, width, out=np.zeros_like(width), where=width > 0)
        rise = (x[:, None] - knots[: -p - 1]) * over[:-1]
        fall = (knots[p + 1 :] - x[:, None]) * over[1:]
        value = rise * value[:, :-1] + fall * value[:, 1:]
    return value


@lru_cache(maxsize=64)
def greville(spans: int, degree: int) -> Array:
    """Return the interpolation points on 0..1: the mean of each ``degree`` successive knots.

    On a single span these would be equally spaced, and the polynomial worse between the outer ones;
    there they are Chebyshev's, stretched so that the ends are among them: hardly worse than the
    best there is.
    """
    if spans == 1:
        half = np.pi / (2 * degree + 2)
        odd = np.arange(2 * degree + 1, 0, -2)
        return np.asarray((1.0 + np.cos(odd * half) / np.cos(half)) / 2, dtype=float)
    knots = clamped_knots(spans, degree)
    windows = np.lib.stride_tricks.sliding_window_view(knots[1:-1], degree)
    points: Array = np.clip(windows.mean(axis=1), 0.0, 1.0)
    return points


@lru_cache(maxsize=64)
def interpolation(spans: int, degree: int) -> Array:
    """Return the matrix from values at the Greville points to spline coefficients."""
    return np.asarray(
        np.linalg.inv(basis(clamped_knots(spans, degree), greville(spans, degree), degree)),
        dtype=float,
    )


@lru_cache(maxsize=64)
def probe(spans: int, degree: int) -> tuple[Array, Array]:
    """Return points between the interpolation points, and the basis there.

    The places where an interpolating spline is at its worst.
    """
    g = greville(spans, degree)
    x = np.concatenate([(g[:-1] + g[1:]) / 2, np.linspace(0.0, 1.0, 2 * spans + 1)])
    return x, basis(clamped_knots(spans, degree), x, degree)
