"""How well an end style, fitted to the points of an end, agrees with them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from springgeo.ends.protocol import BodyEnd
from springgeo.errors import SpecError
from springgeo.recovery.end.fit import Candidate, EndPoints, built, laid


@dataclass(frozen=True, eq=False)
class Judged:
    """How well a candidate agrees with the points.

    Attributes
    ----------
    chi2 : float
        Sum of squares of the distances over the points' error, each saturated at four errors.
    strange : float
        Share of the points beyond the body that lie on no part of the wire.
    unseen : float
        Wire without points, in wire diameters.
    tip : float, mm
        How far the wire goes on beyond the last points on it.
    outside : int
        Values neither in the range that the style guarantees nor its own.
    wire_diameter : float, mm
    """

    candidate: Candidate
    chi2: float
    strange: float
    unseen: float
    tip: float
    outside: int = 0
    wire_diameter: float = 1.0

    @property
    def total(self) -> float:
        """The less, the likelier: misfit, wire nobody has seen, free numbers, unusual ones."""
        short = min(self.tip / self.wire_diameter, 2.0)
        free = 8.0 * len(self.candidate.values) + 15.0 * self.outside
        return self.chi2 + 3.0 * self.unseen + 4.0 * short + free


def judged(candidate: Candidate, data: EndPoints, error: float) -> Judged | None:
    """Return how well a candidate agrees with points of standard ``error`` mm."""
    wire = built(candidate, data.end)
    if isinstance(wire, SpecError):
        return None
    state = laid(candidate, data, wire, data.noise**2 / (2 * data.wire), closely=True)
    part = np.minimum((state.off / error) ** 2, 16.0)
    r = data.wire
    far = np.abs(state.off) > max(4.5 * data.noise, 0.12 * r)
    # where the body goes on, nothing strange can be
    x = data.turned(candidate.delta)
    beyond = (x[:, 2] > 0.5 * r) | (state.feet.s > 0)
    strange = float(far[beyond].mean()) if beyond.any() else 0.0
    seen = np.bincount(
        np.clip((state.feet.s[~far] / (2 * r)).astype(np.intp) + 1, 0, 10_000),
        minlength=2 + int(wire.length / (2 * r)),
    )
    unseen = float((seen[1 : 1 + int(wire.length / (2 * r))] == 0).sum())
    return Judged(
        candidate,
        float(part.sum()),
        strange,
        unseen,
        max(state.excess, 0.0),
        _outside(candidate, data.end),
        2 * r,
    )


def _outside(c: Candidate, end: BodyEnd) -> int:
    """Return how many values lie neither in the guaranteed range nor at the style's own."""
    ranges = c.style.ranges(end)
    count = 0
    for name, value in c.values.items():
        low, high = ranges.get(name, (math.inf, -math.inf))
        if 0.98 * low <= value <= 1.02 * high:
            continue
        # what the style takes by itself, beside the other values
        rest = {k: v for k, v in c.values.items() if k != name}
        wire = built(replace(c, values=rest), end)
        own = None if isinstance(wire, SpecError) else wire.shape.as_built([name]).get(name)
        count += not (isinstance(own, float | int) and abs(value - own) < 0.02 * abs(own))
    return count
