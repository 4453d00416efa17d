"""The pressing force to wind in, so that the spring has the initial tension it is sold with.

The trade measures a spring at two loads, after the coils have parted, and extends the straight
line through both back to the free length: the load there is the initial tension F_i (EN 13906-2;
common practice). Hooks and the outermost turns part early, so the coils must press with a little
more than F_i. The two loads are F_i and once and twice the pressing force; a coil that a pull at
the side still presses there is taken to be apart.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.motion import apply, cross, transposed
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.cell import Strain, wrench_moments
from springgeo.equilibrium.rod import Rod
from springgeo.equilibrium.solved import Solved

# the two loads lie this many pressing forces above F_i: all coils have parted
_LOADS = 1.0, 2.0
# off by less than this share, one more step of Newton's method leaves nothing worth the name
_ROUNDS, _NEAR = 10, 4e-3
# the most that hooks and outer turns can ask for, over F_i
_MOST = 20.0
# pressed so nearly alike, by share, states of the one are found from those of the other
_ALIKE = 0.05


@dataclass(frozen=True, eq=False)
class Measured:
    """The straight part of the load curve: a line through two points, by load and extension.

    ``force`` is its load at the free length, N; ``rate`` its slope, N/mm.
    """

    points: tuple[Solved, Solved]
    force: float
    rate: float


def measured(balance: Balance, tension: float, near: Measured | None = None) -> Measured:
    """Return the straight part as the trade measures it, for a nominal F_i of ``tension`` N."""
    loads = [tension + share * balance.rod.pressing for share in _LOADS]
    if near is None:
        first = balance.unwound(loads[0])
        last = balance.led(loads[1], first)
    else:
        first, last = map(balance.parted, loads, near.points)
    rate = (last.load - first.load) / (last.extension - first.extension)
    return Measured((first, last), first.load - rate * first.extension, rate)


def wound(rod: Rod, tension: float) -> tuple[Rod, Measured]:
    """Return the rod with coils pressed so that its measured initial tension is ``tension`` N.

    Newton's method, the slope by reciprocity: a strain wound in moves the ends by the moments
    that a newton of pull would put there. The straight part is that of the last trial.
    """
    rod = rod.pressing_with(_first(rod, tension))
    line = measured(Balance(rod), tension)
    for _ in range(_ROUNDS):
        off = tension - line.force
        before, wanted = rod.pressing, rod.pressing + off / _slope(rod, line)
        rod = rod.pressing_with(min(max(wanted, before / 2), _MOST * tension))
        if abs(off) <= _NEAR * tension:
            break
        alike = abs(rod.pressing - before) <= _ALIKE * before
        line = measured(Balance(rod), tension, line if alike else None)
    return rod, line


def _first(rod: Rod, tension: float) -> float:
    """Return the pressing force of small deflections: both strains weighed by a pull's moments."""
    wire = rod.drawn
    back, up = transposed(wire.R[1:]), np.tile([0.0, 0.0, 1.0], (rod.size, 1))
    wrench = np.concatenate([apply(back, up), apply(back, cross(up, wire.p[1:]))], axis=1)
    full = wire.length[:, None] * rod.stiffness
    pull = Strain(*(m / full for m in wrench_moments(wire.length, wire.strain, wrench)))
    per_newton = _work(rod, pull, rod.relief) / rod.pressing
    share = _work(rod, pull, pull) / per_newton if per_newton > 0 else 1.0
    return tension * min(max(share, 1.0), _MOST)


def _slope(rod: Rod, line: Measured) -> float:
    """Return the change of the measured initial tension over that of the pressing force."""
    first, last = (_shift(rod, point) / rod.pressing for point in line.points)
    span = line.points[1].load - line.points[0].load
    return -line.rate * (first + (first - last) * line.points[0].extension * line.rate / span)


def _shift(rod: Rod, point: Solved) -> float:
    """Return by how much the strain wound in lengthens the spring at a load, mm: below zero."""
    return -_work(rod, point.rates.strain, rod.relief)


def _work(rod: Rod, a: Strain, b: Strain) -> float:
    full = rod.drawn.length[:, None] * rod.stiffness
    return float(np.sum(full * (a.middle * b.middle + a.slope * b.slope)))
