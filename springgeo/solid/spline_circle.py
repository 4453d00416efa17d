"""The unit circle as a polynomial spline whose parameter is the angle.

A rational circle would be exact, but its parameter is not the angle, and the kernel's default
integration is wrong on rational tubes. A uniform closed spline of degree 7 with ``n`` spans and
its control points on a circle holds, beside the circle itself, only the harmonics 1 ± kn, each
smaller by (1 ± kn)⁸: the curve is off by 1/(n − 1)⁸, and its mean radius is exact.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from springgeo.curve.frame import Array
from springgeo.solid.spline_basis import AROUND, basis, greville, interpolation

# a shared circle edge must lie on its faces well within the kernel's tolerance of 1e-7 mm
_ON_EDGE = 4e-8
# readers sample a face on 20 by 20 places: with 10 spans none lies across a knot, and 200 coils are
# read in an eighth less time than with 9
_FEWEST = 10


def circle_spans(radius: float) -> int:
    """Return how many spans keep a circle of ``radius`` mm on its exact edge."""
    return max(_FEWEST, 1 + math.ceil(math.pow(radius / _ON_EDGE, 1 / (AROUND + 1))))


@lru_cache(maxsize=8)
def circle_poles(spans: int) -> Array:
    """Return the control points over one turn from angle 0, ``(spans + AROUND, 2) float``.

    For the clamped knot row of ``spans`` equal spans; the ends meet as smoothly as the rest.
    """
    step = 2 * math.pi / spans
    knots = step * np.arange(-AROUND, spans + AROUND + 1, dtype=np.float64)
    centre = step * (np.arange(spans + AROUND) - (AROUND - 1) / 2)
    size = math.pow(step / 2 / math.sin(step / 2), AROUND + 1)
    points: Array = size * np.column_stack([np.cos(centre), np.sin(centre)])
    at: Array = 2 * math.pi * greville(spans, AROUND)
    # a value at the very end belongs to the span before it: evaluate it at the start instead
    at[-1] = 0.0
    values: Array = basis(knots, at, AROUND) @ points
    poles: Array = interpolation(spans, AROUND) @ values
    return poles
