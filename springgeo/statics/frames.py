"""The frame of curvature at every section of the wire."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.curve.frame import Array


@dataclass(frozen=True, eq=False)
class Frames:
    """The curvature frame: n toward the centre of curvature, ``b = t × n``; each ``(n, 3)``."""

    t: Array
    n: Array
    b: Array
