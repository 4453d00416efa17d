"""Volume, area and centroid of a tube in closed form, from the centreline alone."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(8)


@dataclass(frozen=True, eq=False)
class SolidProperties:
    """``volume`` mm³, ``area`` mm² and ``centroid`` ``(3,) float, mm``."""

    volume: float
    area: float
    centroid: Array


def tube_properties(path: Path, radius: float) -> SolidProperties:
    """Return the properties of the tube of ``radius`` mm with flat-cut ends.

    By Pappus's theorem the volume is π r² L and the curved area 2π r L, whatever the bends. The
    centroid of a slice lies off the centreline toward the outside of the bend, by r² κ/4:

        c = (1/L) ∫ (C − r² K/4) ds = (1/L) ∫ C ds − r² (T₁ − T₀)/(4 L)

    with the curvature vector K = dT/ds.
    """
    total = sum((_moment(path, i) for i in range(len(path.pieces))), np.zeros(3))
    t = path.tangent(np.array([0.0, path.length]))
    bend = radius**2 / 4 * (t[1] - t[0])
    volume = math.pi * radius**2 * path.length
    area = 2 * math.pi * radius * (path.length + radius)
    return SolidProperties(volume, area, (total - bend) / path.length)


def _moment(path: Path, i: int) -> Array:
    """Return ∫ C ds over piece ``i``, (3,) mm², by Gauss's rule on cells of about 1/2 rad."""
    segment = path.pieces[i].segment
    cells = 1 + math.ceil(2 * segment.max_curvature * segment.length)
    edges = np.linspace(0.0, segment.length, cells + 1)
    half = segment.length / cells / 2
    s = (edges[:-1, None] + half * (1 + _NODES)).ravel()
    weights = np.tile(_WEIGHTS * half, cells)
    result: Array = weights @ segment.point(s)
    return result
