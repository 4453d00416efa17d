"""How far the points of a part lie off the wire found."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.curve.frame import Array


@dataclass(frozen=True, eq=False)
class Residual:
    """How far the points lie off the surface found.

    Attributes
    ----------
    rms : float, mm
        Of the points that belong to the wire.
    explained : float
        Share of all points that do, 0 to 1.
    s, off : (n,) float, mm
        Arc length along the centreline, and distance outward, of some of those points.
    """

    rms: float
    explained: float
    s: Array
    off: Array
