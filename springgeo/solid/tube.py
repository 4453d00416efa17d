"""The wire as a solid: one call from the centreline to a closed body with flat-cut ends."""

from __future__ import annotations

from OCP.TopoDS import TopoDS_Solid

from springgeo.curve import Path
from springgeo.solid.shell import tube_shell_solid
from springgeo.solid.strips import tube_strips


def tube_solid(path: Path, radius: float) -> TopoDS_Solid:
    """Return the round tube of ``radius`` mm on a path whose joints are smooth.

    Lines become cylinders, planar arcs tori, all else polynomial spline surfaces that follow
    the exact tube to about 1e-7 of its diameter. Edges are shared: nothing is sewn, swept or
    fused, so nothing can fail to close.

    Raises
    ------
    BuildError
        Some segment bends too sharply to be followed.
    """
    return tube_shell_solid(tube_strips(path, radius), radius)
