"""A turned part in hexahedra, and where it holds the wire and is held itself."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.elements.o_grid import Ints, Section, polygon
from springgeo.elements.swept import NODES20, Order
from springgeo.fittings import Part, Turned

# elements along a side of the core; the largest element over the radius it lies at
CORE, SIZE = 3, 0.4
# least layers in a cylinder
LEAST = 2
# ordinary steel, which fittings are taken to be of: MPa, -, t/mm³ (common practice)
STEEL = 206000.0, 0.3, 7.85e-9


@dataclass(frozen=True, eq=False)
class Fitting:
    """A part of an end in hexahedra.

    Attributes
    ----------
    name : str
        Of the part: ``first.plug``.
    nodes : (n, 3) float, mm
        In the spring's frame.
    elements : (m, 20 or 8) int
        Nodes from 0, as in ``MeshedWire.elements``.
    seat : (k,) int
        Nodes round the first cylinder, which coils are screwed on.
    held : (j,) int
        Nodes round the last cylinder, a stud, which is screwed in.
    """

    name: str
    nodes: Array
    elements: Ints
    seat: Ints
    held: Ints

    @classmethod
    def of(cls, part: Part, order: Order) -> Fitting | None:
        """Return a part in hexahedra; None where it is not of cylinders on one axis alone.

        Of order 1 its circles are polygons of their own area.
        """
        steps = cylinders(part)
        if steps is None:
            return None
        if order == 1:
            wide = 1 / math.sqrt(polygon(4 * CORE))
            steps = [(wide * r, low, high) for r, low, high in steps]
        radii = sorted({r for r, _, _ in steps})
        count = [math.ceil((b - a) / (SIZE * b)) for a, b in pairwise(radii)]
        rings = [(b / radii[0], k) for b, k in zip(radii[1:], count, strict=True)]
        section = Section.of(CORE, rings)
        flat = radii[0] * section.flat
        reach = np.hypot(*flat[section.quads[:, :4]].T).max(axis=0)
        grid, z = [], [steps[0][1]]
        for r, low, high in steps:
            n = max(LEAST, math.ceil((high - low) / (SIZE * r)))
            first = len(z) - 1 + 2 * np.arange(n)[:, None, None] + NODES20[:, 1]
            quads = section.quads[reach <= r * (1 + 1e-9)][:, NODES20[:, 0]]
            grid.append((first * len(flat) + quads).reshape(-1, 20))
            z += np.linspace(low, high, 2 * n + 1)[1:].tolist()
        wanted = np.concatenate(grid)[:, : 20 if order == 2 else 8]
        used, elements = np.unique(wanted, return_inverse=True)
        level, at = np.divmod(used, len(flat))
        own = np.column_stack([flat[at], np.array(z)[level]])
        # a solid of revolution is its own mirror image: a mirrored frame is turned about
        axes = part.axes * (1, -1, 1) if part.mirrored else part.axes
        ends = [np.flatnonzero(_round(own, *steps[i])) for i in (0, -1)]
        places = own @ axes.T + part.origin
        return cls(part.name, places, elements.reshape(wanted.shape), ends[0], ends[1])


def cylinders(part: Part) -> list[tuple[float, float, float]] | None:
    """Return radius, foot and top, mm, of each cylinder of a stepped part from the foot up.

    None where it is a sheet, has a rod, a cone, or one cylinder alone.
    """
    form = part.form
    if not isinstance(form, Turned) or form.rod is not None:
        return None
    lines = list(pairwise(form.profile))
    if any(r != s and z != top for (r, z), (s, top) in lines):
        return None
    found = [(r, z, top) for (r, z), (_, top) in lines if top > z]
    return found if len(found) > 1 else None


def _round(nodes: Array, radius: float, low: float, high: float) -> npt.NDArray[np.bool_]:
    """Return which nodes of the part's own frame lie round a cylinder."""
    slack = 1e-9 * (radius + high - low)
    at = np.abs(np.hypot(nodes[:, 0], nodes[:, 1]) - radius) <= slack
    return at & (nodes[:, 2] >= low - slack) & (nodes[:, 2] <= high + slack)
