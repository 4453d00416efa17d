"""Clearance to any solid at all, by the kernel."""

from __future__ import annotations

from cadquery import Shape
from OCP.BRepExtrema import BRepExtrema_DistShapeShape

from springgeo.cad.solids import solid
from springgeo.computed import ComputedSpring
from springgeo.errors import BuildError
from springgeo.state import State


def kernel_clearance(spring: ComputedSpring | State | Shape, other: Shape) -> float:
    """Return the least distance of a spring to any shape, mm; 0 where they touch or overlap.

    The same answer as ``springgeo.fit.clearance`` to 1e-4 mm, some hundred times slower, for
    shapes that the fit has no formula for.

    Raises
    ------
    BuildError
        The kernel finds no distance.
    """
    own = spring if isinstance(spring, Shape) else solid(spring)
    extrema = BRepExtrema_DistShapeShape(own.wrapped, other.wrapped)
    if not extrema.IsDone() or extrema.NbSolution() < 1:
        raise BuildError(
            "the kernel found no distance between the spring and the other shape; "
            "check that both are valid solids"
        )
    return float(extrema.Value())


def overlap_volume(spring: ComputedSpring | State | Shape, other: Shape) -> float:
    """Return the volume that a spring and any solid share, mm³."""
    own = spring if isinstance(spring, Shape) else solid(spring)
    return float(own.intersect(other).Volume())
