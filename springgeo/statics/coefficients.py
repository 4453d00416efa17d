"""Reads the law of the bent round bar: how surface stress answers to the curvature felt."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files
from typing import Any

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array

LOADS = ("N", "T", "V", "M")
STRESSES = ("axial", "hoop", "shear")
# place in `LOADS`, whether conjugate, place in `STRESSES`, harmonic
Group = tuple[int, bool, int, int]
# of a series round the wire: harmonics 0 … 6
HARMONICS = 7


@dataclass(frozen=True, eq=False)
class Law:
    """The terms of the series round the wire, one a row, at one Poisson's ratio.

    With the loads N, T, ``V = V_n + i V_b``, ``M = M_n + i M_b`` over A or the section moduli,
    and with z the curvature felt (times d/2, real along n), each stress at the angle φ from n
    toward b is that of the straight bar and

    ``Re Σ phase · load · z̄^bars · z^plain · (c₀ + c₁ |z|² + …) · exp(i m φ)``,

    where the load may be conjugate. Rows are sorted by ``bars``.

    Attributes
    ----------
    nu : float
    rates : (k,) float
        Of the exponentials in ``z``, per wire diameter.
    shown : (k,) float
        Of both sides' averages for the curvature felt by bending.
    weights : (R, 2k) float
        Of the averages over both sides, and of the difference after − before.
    load, conjugate, stress, harmonic, bars, plain : tuple of R
        Place in ``LOADS``, in ``STRESSES``; m.
    phase : (R,) complex
    powers : (R, c) float
    """

    nu: float
    rates: Array
    shown: Array
    weights: Array
    load: tuple[int, ...]
    conjugate: tuple[bool, ...]
    stress: tuple[int, ...]
    harmonic: tuple[int, ...]
    bars: tuple[int, ...]
    plain: tuple[int, ...]
    phase: npt.NDArray[np.complex128]
    powers: Array

    @cached_property
    def long(self) -> npt.NDArray[np.intp]:
        """The rows with more than c₀."""
        return np.flatnonzero(np.any(self.powers[:, 1:] != 0.0, axis=1))

    @cached_property
    def groups(self) -> tuple[tuple[Group, npt.NDArray[np.intp]], ...]:
        """The rows that make up one harmonic of one stress by one load."""
        keys = list(zip(self.load, self.conjugate, self.stress, self.harmonic, strict=True))
        return tuple(
            (key, np.array([i for i, other in enumerate(keys) if other == key]))
            for key in dict.fromkeys(keys)
        )


@cache
def table() -> dict[str, Any]:
    """Return the table as read."""
    text = files("springgeo.statics").joinpath("bent_bar.json").read_text("utf-8")
    result: dict[str, Any] = json.loads(text)
    return result


def shear_factor(nu: float) -> float:
    """Return k₁ = (1 + 2ν)/(1 + ν): shear on the rim of a straight round bar, over V/A.

    At the neutral axis. Source: Timoshenko and Goodier, Theory of Elasticity, bending of a
    cantilever of circular section. Known: from memory; finite elements agree to 1e-4.
    """
    return (1 + 2 * nu) / (1 + nu)


@cache
def law(nu: float) -> Law:
    """Return the law at a Poisson's ratio.

    The table holds it at three of them; between, and a little beyond, every coefficient is a
    parabola in ν. The weights of the terms of higher order are those of ν = 0.3.
    """
    data = table()
    nodes = np.array(data["nu"])
    share = np.array([np.prod([(nu - b) / (a - b) for b in nodes if b != a]) for a in nodes])
    rows = sorted(data["terms"], key=lambda row: row["bars"])

    def at_nu(name: str) -> Array:
        width = max(np.shape(row[name])[-1] for row in rows)
        out = np.zeros((len(rows), width))
        for i, row in enumerate(rows):
            value = np.array(row[name])
            if value.ndim == 2:
                value = np.sum(share[:, None] * value, axis=0)
            out[i, : value.size] = value
        out.setflags(write=False)
        return out

    return Law(
        nu=nu,
        rates=np.array(data["rates"]),
        shown=np.array(data["shown"]),
        weights=at_nu("weights"),
        load=tuple(LOADS.index(row["load"]) for row in rows),
        conjugate=tuple(row["conjugate"] for row in rows),
        stress=tuple(STRESSES.index(row["stress"]) for row in rows),
        harmonic=tuple(row["harmonic"] for row in rows),
        bars=tuple(row["bars"] for row in rows),
        plain=tuple(row["plain"] for row in rows),
        phase=np.array([complex(*row["phase"]) for row in rows]),
        powers=at_nu("powers"),
    )
