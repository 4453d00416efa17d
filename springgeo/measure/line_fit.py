"""A straight line through load-length readings above the knee, with confidence intervals."""

from __future__ import annotations

from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from springgeo.errors import refused
from springgeo.mechanics.value import Array, Mask
from springgeo.text import quantity as q
from springgeo.text.shown import said

# a reading counts as above the knee when it is longer than the free length by so many standard
# uncertainties of the two lengths
ABOVE = 4.0


class Interval(NamedTuple):
    """A value, its standard uncertainty, and its confidence interval."""

    value: float
    u: float
    low: float
    high: float


class Line(NamedTuple):
    """Rate, N/mm; initial tension, N; readings used; and how far the line bends.

    ``bend`` is the quadratic term over its own uncertainty; ``scatter`` the residuals' standard
    deviation over what the uncertainties of the readings lead to expect.
    """

    rate: Interval
    tension: Interval
    used: Mask
    bend: float
    scatter: float


def fit_line(
    length: Array,
    load: Array,
    free: tuple[float, float],
    u: tuple[float, float],
    confidence: float = 0.95,
) -> Line:
    """Return rate and initial tension by weighted least squares over readings above the knee.

    Errors of length count by their effect on load (effective variance u_F^2 + k^2 u_L^2); the
    residuals' own scatter sets the interval, by Student's t, where it exceeds them. Source: ISO
    Guide 98-3 (uncertainty); least squares with effective variance, Orear 1982. Known: from
    memory.

    Parameters
    ----------
    length, load : array (n,)
        mm inside hooks, N.
    free : (float, float)
        Free length inside hooks and its standard uncertainty, mm.
    u : (float, float)
        Standard uncertainties of a length, mm, and of a load, N.
    confidence : float
        Of the intervals.

    Raises
    ------
    SpecError
        Fewer than three readings above the knee, or loads that do not rise.
    """
    u_L, u_F = u
    used = length > free[0] + ABOVE * float(np.hypot(u_L, free[1]))
    if used.sum() < 3 or np.ptp(length[used]) <= ABOVE * u_L:
        text = said(
            "{count} readings lie above the free length {free} by more than their "
            "uncertainty; at least 3 are needed, over more than their uncertainty: pull "
            "further",
            count=int(used.sum()),
            free=q.length(free[0], 5),
        )
        raise refused("too-few-pulls", "pulls", text)
    x, y = length[used] - free[0], load[used]
    around = x - x.mean()
    rate = float((around * y).sum() / (around**2).sum())
    if not rate > 0:
        falling = "the load does not rise with length; read again"
        raise refused("pulls-falling", "pulls", falling)
    for _ in range(3):
        sigma = float(np.hypot(u_F, rate * u_L))
        (tension, rate), cov, chi2 = _least_squares(x, y, sigma, 1)
    dof = len(x) - 2
    scatter = float(np.sqrt(chi2 / dof))
    # scatter beyond the readings' uncertainty is believed; less of it is taken for luck
    factor = scatter * student(confidence, dof) if scatter > 1 else normal(confidence)
    u_k = float(np.sqrt(cov[1, 1])) * max(scatter, 1.0)
    u_line = float(np.sqrt(cov[0, 0])) * max(scatter, 1.0)
    u_F_i = float(np.hypot(u_line, rate * free[1]))
    wide = factor / max(scatter, 1.0)
    bend = 0.0
    # three lengths apart, or a bend cannot be told from the line
    if len(x) > 3 and len(np.unique(np.round(x / (ABOVE * u_L)))) > 2:
        coefficients, more, rest = _least_squares(x, y, sigma, 2)
        bend = float(coefficients[2] / np.sqrt(more[2, 2]) / max(1.0, np.sqrt(rest / (dof - 1))))
    return Line(_interval(rate, u_k, wide), _interval(tension, u_F_i, wide), used, bend, scatter)


def _least_squares(x: Array, y: Array, sigma: float, degree: int) -> tuple[Array, Array, float]:
    """Return coefficients from the constant up, their covariance, and chi squared."""
    size = float(x.max()) ** np.arange(degree + 1)  # columns of one size, whatever the lengths
    A = np.vander(x, degree + 1, increasing=True) / size / sigma
    cov = np.asarray(np.linalg.inv(A.T @ A), dtype=np.float64)
    coefficients = cov @ (A.T @ (y / sigma))
    chi2 = float(((y / sigma - A @ coefficients) ** 2).sum())
    return coefficients / size, cov / np.outer(size, size), chi2


def _interval(value: float, u: float, factor: float) -> Interval:
    v, wide = float(value), float(factor * u)
    return Interval(v, float(u), v - wide, v + wide)


def normal(confidence: float) -> float:
    """Return the two-sided factor of the normal distribution."""
    return NormalDist().inv_cdf((1 + confidence) / 2)


def student(confidence: float, dof: int) -> float:
    """Return the two-sided factor of Student's t: with t = sqrt(n) tan a its density is cos^(n-1).

    Known: derived.
    """
    a = np.linspace(0.0, np.pi / 2, 20001)
    density = np.cos(a) ** (dof - 1)
    sums = np.concatenate([[0.0], np.cumsum((density[1:] + density[:-1]) / 2)])
    angle = float(np.interp(confidence, sums / sums[-1], a))
    return float(np.sqrt(dof) * np.tan(angle))
