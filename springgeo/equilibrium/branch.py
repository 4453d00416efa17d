"""Whether a state found from far away lies on the curve that leads from rest.

A wire has many shapes in balance at one load: a coil may have tumbled, an end have turned once
more. Along one curve the work of the pull is the energy that the wire takes up; a state that was
reached by a leap to another curve holds more or less.
"""

from __future__ import annotations

import numpy as np

from springgeo.equilibrium.posed import Shape
from springgeo.equilibrium.rod import Rod
from springgeo.equilibrium.solved import Solved

# by what share work and energy may differ: one per cent at thirty times the load on one curve,
# where the cubic is that coarse, and more than ten from one curve to another
_NEAR = 0.03
# what rounding may leave of a difference of energies, over the whole
_ROUNDED = 1e-9


def strain_energy(rod: Rod, shape: Shape) -> float:
    """Return the energy of bending and twist in the wire, from its natural strain on, N mm."""
    full = rod.drawn.length[:, None] * rod.stiffness
    middle = shape.strain.middle - rod.natural.middle
    slope = shape.strain.slope - rod.natural.slope
    return float(np.sum(full * (middle * middle + slope * slope))) / 2


def same_branch(rod: Rod, before: Solved, after: Solved) -> bool:
    """Return whether the work between two states with coils apart is the energy taken up.

    The work is that under the cubic with the slopes of the load curve at both.
    """
    step = after.extension - before.extension
    slopes = 1 / after.compliance - 1 / before.compliance
    work = step * (before.load + after.load) / 2 - step**2 * slopes / 12
    held = strain_energy(rod, after.shape)
    taken = held - strain_energy(rod, before.shape)
    return abs(work - taken) <= _NEAR * max(abs(taken), abs(work)) + _ROUNDED * held


def from_the_drawn(rod: Rod, rest: Shape, after: Solved) -> bool:
    """Return whether a state with coils apart lies on the curve that leads from the drawn shape.

    As drawn, the body is in balance against the pull that presses, but the hooks have yet to give
    to it: by what the curve, extended back, says.
    """
    pull = rod.pressing
    gives = after.extension - after.compliance * (after.load - pull)
    work = (after.extension - gives) * (pull + after.load) / 2
    held = strain_energy(rod, after.shape)
    taken = held - strain_energy(rod, rest) - pull * gives / 2
    return abs(work - taken) <= _NEAR * max(abs(taken), abs(work)) + _ROUNDED * held
