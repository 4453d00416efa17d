"""Handing a spring to another package on the same kernel, without depending on it.

In one environment the kernel's own object can be handed over: ``build123d.Solid(wrapped(s))``.
Packages that bring a different kernel cannot share memory with ours; they read the STEP file.
"""

from __future__ import annotations

from os import PathLike
from pathlib import Path
from typing import Any

from springgeo.cad.solids import solid
from springgeo.computed import ComputedSpring
from springgeo.state import State


def wrapped(spring: ComputedSpring | State) -> Any:
    """Return the kernel's own solid (``TopoDS_Solid``)."""
    return solid(spring).wrapped


def hand_over(spring: ComputedSpring | State, target: str | PathLike[str]) -> Path:
    """Write the bare solid as STEP for another package to import; return the file.

    Raises
    ------
    FileError
        The file cannot be written.
    """
    from springgeo.files.step.write import StepPart, write_step

    place = Path(target)
    part = StepPart("spring", solid(spring).wrapped)
    write_step(place, [part], product="spring", description="extension spring", attributes={})
    return place
