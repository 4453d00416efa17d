"""The spring behind a line: one whose own loads, at the lengths read, lie on that line."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.polynomial import Chebyshev

from springgeo.api import Spring
from springgeo.measure.line_fit import Line
from springgeo.mechanics.value import Array
from springgeo.specification.change import changed

# lengths at which a spring is asked, where there are no fewer; rounds, and how near two of them are
# the same
_NODES, _ROUNDS, _NEAR = 12, 6, 1e-5


class Behind(NamedTuple):
    """The initial tension that a spring is wound with, N, and by what its moduli are multiplied.

    ``departure`` ``(n,)``: by how much its loads lie off their own line, N.
    """

    tension: float
    stiffer: float
    departure: Array


def behind(spring: Spring, line: Line, extension: Array) -> Behind:
    """Return what makes a spring's loads, at extensions ``(n,)`` mm, lie on a line.

    Coils that are still parting and hooks that open make of readings another line than that of
    the small load, so the spring is asked at the same lengths and its loads are fitted as the
    readings are. Loads go with the moduli: F(x; G, F_i) = G/G_0 F(x; G_0, F_i G_0/G). Known:
    derived.

    Raises
    ------
    SpecError
        The spring cannot be drawn so far.
    """
    tension, stiffer = max(line.tension.value, 0.0), 1.0
    size = max(line.tension.value + line.rate.value * float(extension.max()), tension)
    for _ in range(_ROUNDS):
        tried = {"body.initial_tension": tension / stiffer}
        start, rate, departure = _line(Spring(changed(spring.spec, tried)), extension)
        before = tension, stiffer
        stiffer = line.rate.value / rate
        tension = max(tension + line.tension.value - stiffer * start, 0.0)
        moved = abs(stiffer / before[1] - 1), abs(tension - before[0]) / size
        if max(moved) <= _NEAR:
            break
    return Behind(tension, stiffer, stiffer * departure)


def _line(spring: Spring, extension: Array) -> tuple[float, float, Array]:
    """Return the line through a spring's loads, and by how much these lie off it, N.

    The line by its load at the free length, N, and its rate, N/mm.
    """
    curve = spring.load_curve
    asked = np.unique(extension)
    many = len(asked) > _NODES
    if many:  # closest at the ends, so that a polynomial through them does not swing
        low, high = asked[0], asked[-1]
        asked = (low + high) / 2 - (high - low) / 2 * np.cos(np.linspace(0.0, np.pi, _NODES))
    loads = np.array([curve.load(curve.free_length + x) for x in asked.tolist()])
    if many:
        own = Chebyshev.fit(asked, loads, _NODES - 1)(extension)
    else:
        own = np.interp(extension, asked, loads)
    rate, start = np.polyfit(extension, own, 1)
    return float(start), float(rate), own - (start + rate * extension)
