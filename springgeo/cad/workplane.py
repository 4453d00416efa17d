"""One method for ``cadquery.Workplane``: a spring at every point of the stack."""

from __future__ import annotations

import cadquery as cq

from springgeo.cad.solids import solid
from springgeo.computed import ComputedSpring
from springgeo.state import State

NAME = "spring"


def register(name: str = NAME) -> None:
    """Add ``Workplane.spring(spring_or_state)``; call it once, on purpose.

    The method puts the solid at every point of the stack, in the point's own axes; it is built
    once.

    Raises
    ------
    ValueError
        ``Workplane`` already has another attribute of that name.
    """
    present = getattr(cq.Workplane, name, None)
    if present is not None and present is not _spring:
        raise ValueError(f"Workplane.{name} exists already; register under another name")
    setattr(cq.Workplane, name, _spring)


def _spring(
    self: cq.Workplane, spring: ComputedSpring | State, combine: bool = False
) -> cq.Workplane:
    """Put a spring at every point of the stack; ``combine`` fuses it with the rest."""
    shape = solid(spring)
    return self.eachpoint(lambda place: shape.moved(place), True, combine)
