"""Springs as bare centrelines, made from segments alone."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from springgeo.curve import Arc, CylinderBend, Helix, Line, Path, Piece
from springgeo.curve.frame import FLIP, MIRROR, Array, rotation_z, vector

UP = vector(0, 0, 1)


@pytest.fixture(scope="session")
def make_spring() -> Callable[..., Path]:
    return spring


def machine_half_loop(R: float, lead: float, r2: float, leg: float, turn: float) -> list[Piece]:
    """Bend on the coil's cylinder, straight leg, loop arc: every seam meets the next."""
    bend = CylinderBend(radius=R, bend_radius=r2, start=lead, end=math.pi / 2)
    foot = bend.point(np.array([bend.length]))[0]
    top = foot + leg * UP
    loop = Arc.leaving(top, UP, -foot * [1, 1, 0], R, turn)
    return [
        Piece(bend, "bend", "bend"),
        Piece(Line.between(foot, top), "leg", "straight"),
        Piece(loop, "loop", "loop"),
    ]


def crossing_loop(R: float, lead: float, r2: float, r1: float) -> list[Piece]:
    """Arc in the coil's plane, line, arc in another plane: seams apart at both arcs."""
    start, t = vector(R, 0, 0), vector(0, math.cos(lead), math.sin(lead))
    plan = Arc.leaving(start, t, vector(-1, 0, 0), r2, 2.0)
    foot, t = _end(plan)
    line = Line.between(foot, foot + r1 * t)
    loop = Arc.leaving(*_end(line), UP, r1, 5.2)
    return [
        Piece(plan, "plan", "bend"),
        Piece(line, "cross", "straight"),
        Piece(loop, "loop", "loop"),
    ]


def spring(
    turns: float = 4.0,
    d: float = 1.0,
    C: float = 8.0,
    *,
    crossing: bool = False,
    left: bool = False,
    backward: bool = False,
) -> Path:
    R, pitch = C * d / 2, 1.003 * d
    lead = math.atan2(pitch, 2 * math.pi * R)
    r2 = min(2.0 * d, 0.8 * R)
    if crossing:
        end = crossing_loop(R, lead, r2, 0.9 * R)
    else:
        end = machine_half_loop(R, lead, r2, 0.7 * d, 0.9 * math.pi)
    body = Path([Piece(Helix(radius=R, pitch=pitch, turns=turns), "body", "body")])
    high = Path(end).moved(rotation_z(2 * math.pi * turns), turns * pitch * UP)
    low = Path(end).moved(FLIP, np.zeros(3)).reversed()
    path = Path([*low.pieces, *body.pieces, *high.pieces])
    if left:
        path = path.moved(MIRROR, np.zeros(3))
    assert path.joint_angles().max() < 1e-9
    assert path.joint_gaps().max() < 1e-9 * d
    return path.reversed() if backward else path


def _end(segment: Arc | Line) -> tuple[Array, Array]:
    s = np.array([segment.length])
    return segment.point(s)[0], segment.tangent(s)[0]
