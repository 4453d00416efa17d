"""The finite-element springs, built from curve segments alone."""

from __future__ import annotations

import json
import math
from pathlib import Path as File

import numpy as np
import pytest

from springgeo.curve import Arc, CylinderBend, Helix, Line, Path, Piece
from springgeo.curve.frame import FLIP, rotation_z, vector
from springgeo.statics import Contacts, analyse

PUBLISHED = json.loads((File(__file__).parents[1] / "published/fe_cases.json").read_text())
CASES = {case["id"]: case for case in PUBLISHED["cases"]}


def hooked_spring(d, R, pitch, turns, r2, leg, end_angle=2 * math.pi / 3):
    """Return the C2-symmetric spring (path, contacts) with its middle at z = 0."""
    helix = Helix(radius=R, pitch=pitch, turns=turns)
    bend = CylinderBend(radius=R, bend_radius=r2, start=helix.lead_angle, end=math.pi / 2)
    top, up = bend.point([bend.length])[0], vector(0, 0, 1)
    hook = [Piece(bend, "bend", "bend")]
    if leg > 0:
        hook.append(Piece(Line.between(top, top + leg * up), "leg", "straight"))
    foot = top + leg * up
    loop = Arc.leaving(foot, up, vector(-foot[0], -foot[1], 0), R, end_angle)
    hook.append(Piece(loop, "loop", "loop"))
    past = R * (end_angle - math.pi / 2)
    b = Path(hook).moved(rotation_z(2 * math.pi * turns), vector(0, 0, turns * pitch)).pieces
    a = Path(hook).moved(FLIP, np.zeros(3)).reversed().pieces
    path = Path([*a, Piece(helix, "body", "body"), *b])
    path = path.moved(np.eye(3), vector(0, 0, -turns * pitch / 2))
    s = np.array([past, path.length - past])
    return path, Contacts(*path.point(s), *s)


def fe_spring(case):
    g = case["geometry"]
    return hooked_spring(
        g["wire_d"],
        g["R"],
        g["pitch"],
        g["Nb_turns_between_bend_starts"],
        g["r2"],
        g["leg_h"],
        math.radians(g["loop_end_angle_deg"]),
    )


@pytest.fixture(scope="session", name="hooked_spring")
def _hooked_spring():
    return hooked_spring


@pytest.fixture(scope="session", params=CASES, ids=str)
def fe(request):
    """Return (case, path, result at the case's load)."""
    case = CASES[request.param]
    path, contacts = fe_spring(case)
    m = case["material"]
    result = analyse(path, case["geometry"]["wire_d"], contacts, m["E"], m["G"])
    return case, path, result.scaled(case["load"]["F"])
