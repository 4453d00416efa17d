"""What the surface of a part tells, before it is a specification."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.curve.frame import Array
from springgeo.recovery.coiled.body import Body
from springgeo.recovery.ends import EndFound
from springgeo.recovery.units import Unit


@dataclass(frozen=True, eq=False)
class Shape:
    """What the surface tells, before it is a specification; mm.

    ``points`` are evenly spread, ``exact`` those that lie on the surface for certain.
    """

    body: Body
    ends: tuple[EndFound, EndFound]
    points: Array
    exact: Array
    unit: Unit
