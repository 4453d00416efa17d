"""Reads the surface stress coefficients of a curved round bar, and shifts them to another ν."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np

from springgeo.curve.frame import Array

# columns of the harmonic arrays: cos 0 … cos 5, then sin 1 … sin 5
HARMONICS = 6
COLUMNS = 2 * HARMONICS - 1
POWERS = 9

# change of the bending factor with ν at the inside of the bend, in units of e: measured
POISSON = 0.47


@cache
def table() -> dict[str, Any]:
    """Return the table as read: ``about``, ``nu``, ``largest_e``, ``coefficients``."""
    text = files("springgeo.statics").joinpath("curved_bar_section.json").read_text("utf-8")
    result: dict[str, Any] = json.loads(text)
    return result


def shear_factor(nu: float) -> float:
    """Return k₁ = (1 + 2ν)/(1 + ν): shear on the rim of a straight round bar, over V/A.

    At the neutral axis. Source: Timoshenko and Goodier, Theory of Elasticity, bending of a
    cantilever of circular section. Known: from memory; the table's 1.231 at ν = 0.3 agrees.
    """
    return (1 + 2 * nu) / (1 + nu)


@cache
def coefficients(nu: float) -> dict[str, Array]:
    """Return per table key the polynomial coefficients ``(9, 11) float``: power of e, harmonic.

    The table holds for ν = 0.3. Other ν shift the leading terms alone: direct shear by k₁(ν),
    torsion's first harmonic ``(5/4 − k₁/2) e``, bending's second harmonic by ``ν e/2``, and the
    bending factor at the inside of the bend by 0.47 ν e in all. The hoop stress, N's part and
    the terms in e² keep their values at 0.3. Error for 0.25 ≤ ν ≤ 0.35 and e ≤ 1/4 (estimate):
    below 0.2 % on the axial stress, below 0.3 % on the shear; at ν = 0 the bending factor is
    within 0.2 % of the handbook's K_A for 4 ≤ C ≤ 12 (tested).
    """
    out = {key: _array(entry) for key, entry in table()["coefficients"].items()}
    by, k = nu - table()["nu"], shear_factor(nu) - shear_factor(table()["nu"])
    sine = HARMONICS - 1  # column of sin m is sine + m
    out["T_2"][1, 1] -= k / 2
    out["Vb_2"][0, 1] += k
    out["Vn_2"][0, sine + 1] -= k
    out["Mb_0"][1, 2] -= 0.5 * by
    out["Mb_0"][1, 0] -= (POISSON - 0.5) * by
    out["Mn_0"][1, sine + 2] += 0.5 * by
    for array in out.values():
        array.setflags(write=False)
    return out


def _array(entry: dict[str, Any]) -> Array:
    shift = HARMONICS - 1 if entry["basis"] == "sin" else 0
    out = np.zeros((POWERS, COLUMNS))
    for harmonic, term in entry["terms"].items():
        out[term["powers"], shift + int(harmonic)] = term["coef"]
    return out
