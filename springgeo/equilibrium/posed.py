"""The rod under a load, how that moves with it, and what bears on its ends beside the pins."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import cross
from springgeo.equilibrium.cell import Strain
from springgeo.equilibrium.contact.stand import Stand
from springgeo.equilibrium.rod import Rod


@dataclass(frozen=True, eq=False)
class Shape:
    """The rod under a load.

    Attributes
    ----------
    load : float, N
    R, p : (n + 1, 3, 3), (n + 1, 3) float
        Poses of the nodes; A's point is the origin, the pull runs along +z; mm.
    strain : Strain
    wrench : (n, 6) float
        At the far end of each cell, in the node's axes: what the wire beyond does to it.
    pressing : (k,) float, N
        Force of each pair of coils on each other.
    stand : Stand or None
        How the coils stand to each other, where that was asked.
    """

    load: float
    R: Array
    p: Array
    strain: Strain
    wrench: Array
    pressing: Array
    stand: Stand | None = None


@dataclass(frozen=True, eq=False)
class Rates:
    """How a shape moves per newton: twists ``(n + 1, 6)``, strain, and the chord's along-pull."""

    twist: Array
    strain: Strain
    wrench: Array
    pressing: Array
    chord: float

    def bent(self, before: Rates, by: float) -> Rates:
        """Return these rates and ``by`` times what they are more than those before."""

        def more(a: Array, b: Array) -> Array:
            return a + by * (a - b)

        return Rates(
            more(self.twist, before.twist),
            Strain(
                more(self.strain.middle, before.strain.middle),
                more(self.strain.slope, before.strain.slope),
            ),
            more(self.wrench, before.wrench),
            more(self.pressing, before.pressing),
            self.chord + by * (self.chord - before.chord),
        )


def beside_pins(rod: Rod, shape: Shape) -> tuple[Array, Array]:
    """Return what bears on the nodes of A and B beside wire and pin, each ``(6,)`` in its axes.

    The weight there, and a coil that presses on wire held by a fitting.
    """
    own = np.zeros((2, 6)) if rod.weight is None else rod.weight.on_nodes(shape.R)[[0, -1]]
    reaches = len(rod.pairs) and (rod.pairs.low[0] == 0 or rod.pairs.high[-1] == rod.size)
    if reaches and rod.felt(shape.pressing):
        stand = shape.stand or Stand.of(rod.pairs, shape.R, shape.p)
        space = stand.on_nodes(shape.pressing, len(shape.p))
        for i in (0, -1):
            push = space[i, :3]
            moment = space[i, 3:] - cross(shape.p[i], push)
            own[i] += np.concatenate([push @ shape.R[i], moment @ shape.R[i]])
    return own[0], own[1]
