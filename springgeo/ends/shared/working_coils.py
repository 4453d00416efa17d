"""Coils that an end winds beside the body's and that give as the body does."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from springgeo.curve import Segment

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)


def worth(coils: Iterable[Segment], radius: float) -> float:
    """Return how many body coils of ``radius`` mm give as much as these coils, under one load.

    A turn of radius r gives (r/R)³ of a body coil, since deflection per turn is 8 F D³/(G d⁴):
    ∫ r² ds/(2π R³) along the wire. Source: Machinery's Handbook 31st ed. p. 328, deflection of
    one coil, summed over coils of falling diameter. Known: derived.
    """
    total = 0.0
    for segment in coils:
        s = segment.length * (_NODES + 1) / 2
        point = segment.point(s)
        r2 = point[:, 0] ** 2 + point[:, 1] ** 2
        total += float(_WEIGHTS @ r2) * segment.length / 2
    return total / (2 * math.pi * radius**3)
