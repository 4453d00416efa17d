"""How far a stress along the wire may be off, by what the wire is like around its place."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from importlib.resources import files
from itertools import pairwise
from typing import Any, Literal

import numpy as np

from springgeo.curve import Path

Surroundings = Literal["smooth", "joint", "short bend", "beyond"]
# all in wire diameters: how far around a place one looks; a shorter bend is short; what the
# family of bends holds
REACH, SHORT = 0.75, 1.5
LEAST_RADIUS, LEAST_LENGTH = 1.0, 0.2
# a change of the curvature, times d/2, that is none
_NO_JUMP = 0.01
_SLACK = 1e-6


@cache
def table() -> dict[str, Any]:
    """Return the bands as read, per cent, with their source."""
    text = files("springgeo.statics").joinpath("bands.json").read_text("utf-8")
    result: dict[str, Any] = json.loads(text)
    return result


def band(near: Surroundings, kind: str) -> tuple[float, float]:
    """Return the least and greatest error measured, per cent of the true stress.

    Parameters
    ----------
    near : one of ``Surroundings``
    kind : {"axial", "shear", "von_mises"}
    """
    low, high = table()["bands"][near][kind]
    return float(low), float(high)


def surroundings(path: Path, wire_diameter: float) -> Callable[[float], Surroundings]:
    """Return what tells, of an arc length, mm, what the wire is like within 0.75 d of it.

    ``beyond``: a bend sharper than radius d, or shorter than 0.2 d, beyond what was measured;
    ``short bend``: one shorter than 1.5 d; ``joint``: the curvature jumps; else ``smooth``.
    """
    bent = [
        p.segment.curvature(np.array([0.0, 0.5, 1.0]) * p.segment.length) * (wire_diameter / 2)
        for p in path.pieces
    ]
    size = np.array([np.sqrt(np.max(np.sum(k * k, axis=1))) for k in bent])
    jump = np.array([np.sqrt(np.sum((b[0] - a[-1]) ** 2)) for a, b in pairwise(bent)]) > _NO_JUMP
    length = np.where(size > _NO_JUMP, np.diff(path.starts) / wire_diameter, np.inf)
    joints = path.starts[1:-1]

    @cache
    def at(s: float) -> Surroundings:
        low, high = s - REACH * wire_diameter, s + REACH * wire_diameter
        first, last = path.find(np.array([low, high])).tolist()
        if size[first : last + 1].max() > 1 / (2 * LEAST_RADIUS) + _SLACK:
            return "beyond"
        here = np.flatnonzero(jump & (joints >= low) & (joints <= high))
        if not len(here):
            return "smooth"
        shortest = min(length[here].min(), length[here + 1].min())
        if shortest < LEAST_LENGTH - _SLACK:
            return "beyond"
        return "short bend" if shortest < SHORT else "joint"

    return at
