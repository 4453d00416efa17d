"""Against non-linear finite elements: springs as solids, pulled far.

``data/finite_elements.json``: total-Lagrangian 20-node hexahedra on the library's own centrelines,
one case confirmed by CalculiX 2.20 (NLGEOM, C3D20R) to 5e-7; the file says how they were made.
``C8`` below: CalculiX 2.20, a machine half loop of index 8, ends free to turn about the pull.
"""

from __future__ import annotations

import json
from pathlib import Path as File
from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo.curve import Path
from springgeo.curve.frame import Array
from tests.equilibrium.rods import curve_of
from tests.springs import asked
from tests.verification import Of

CASES = json.loads((File(__file__).parent / "data" / "finite_elements.json").read_text())["cases"]
# load N, secant rate N/mm, mean diameter in the middle mm; rate of a small load 6.03792 N/mm
C8 = [(27.5, 6.05346, 15.9825), (55, 6.06912, 15.9633), (82.5, 6.08557, 15.9431),
      (110, 6.10303, 15.9221)]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda c: str(c["id"]))
def test_rate_and_places(case: dict[str, Any]) -> None:
    spring = sg.Spring.from_dict(case["spec"])
    curve = curve_of(spring)
    linear = asked(spring).along_the_wire.rate
    side = "side" in case["spec"]["ends"]["a"]["style"]
    for step in case["steps"]:
        force = step["force"]
        secant = force / (curve.length(force) - curve.free_length)
        wanted = step["secant_over_linear"]
        share = Of(secant / linear, f"secant rate over the linear one, at {force:g} N")
        assert share == pytest.approx(wanted, rel=2e-3 if side else 1e-3)
        places = _places(curve, force, case["stations"], case["stations"]["plane"])
        for name, point in step["points"].items():
            assert places[name] == pytest.approx(np.array(point), abs=0.02), (name, force)


@pytest.mark.parametrize("case", CASES, ids=lambda c: str(c["id"]))
def test_stress_at_the_last_load(case: dict[str, Any]) -> None:
    """Within 2 %, as far as the coarse meshes are good; the drawn shape's stress is not."""
    spring, step = sg.Spring.from_dict(case["spec"]), case["steps"][-1]
    peaks = spring.along_the_wire.at(step["force"]).peaks
    hook = [p for region, p in peaks.items() if region != "body"]
    found = {
        "body_shear": peaks["body"].shear.value,
        "hook_axial": max(p.axial.value for p in hook),
        "hook_shear": max(p.shear.value for p in hook),
        "von_mises": max(p.von_mises.value for p in peaks.values()),
    }
    for name, value in found.items():
        assert value == pytest.approx(step["stress_coarse"][name]["value"], rel=2e-2), name
    drawn = spring.along_the_wire.unit.scaled(step["force"]).peaks["body"].shear.value
    assert abs(drawn / step["stress_coarse"]["body_shear"]["value"] - 1) > 0.03


def _places(curve: Any, force: float, stations: dict[str, float], plane: float) -> dict[str, Array]:
    """Return the named points: contact A at the origin, the station ``plane`` at y = 0, x > 0."""
    state = curve.state(load=force)
    at = {name: state.path.point(np.array([s]))[0] for name, s in stations.items()}
    start = at["contact_a"]
    x, y, _ = (at["plane"] - start).tolist()
    turn = np.array([[x, y, 0.0], [-y, x, 0.0], [0.0, 0.0, np.hypot(x, y)]]) / np.hypot(x, y)
    return {name: turn @ (point - start) for name, point in at.items()}


def test_index_eight() -> None:
    spring = sg.Spring.from_dict(
        {
            "name": "C8",
            "wire": {
                "material": "en-10270-1-sm",
                "diameter": 2.0,
                "elastic_modulus": 206000.0,
                "shear_modulus": 79230.77,
            },
            "body": {"mean_diameter": 16.0, "coils": 6, "pitch": 2.1},
            "ends": {
                "first": {"style": "machine-half-loop", "bend_radius": 4.0},
                "second": {"style": "machine-half-loop", "bend_radius": 4.0},
            },
        }
    )
    curve = curve_of(spring)
    small = 1.0 / (curve.length(1.0) - curve.free_length)
    for force, secant, middle in C8:
        got = force / (curve.length(force) - curve.free_length)
        share = Of(got / small, f"secant rate over that of a small load, at {force:g} N")
        assert share == pytest.approx(secant / 6.03792, rel=1e-3)
        wide = _middle_diameter(curve.state(load=force).path)
        wide = Of(wide, f"mean diameter of the middle coils, mm, at {force:g} N")
        assert wide == pytest.approx(middle, rel=1e-3)


def _middle_diameter(path: Path) -> float:
    """Return the mean diameter of the turn about the wire's middle, from points alone."""
    body, start = next((p, s) for p, s in path if p.role == "body")
    middle = start + body.segment.length / 2
    kappa = float(np.linalg.norm(path.curvature(np.array([middle]))))
    rise = 0.0
    for _ in range(4):
        turn = 2 * np.pi * np.sqrt(1 - rise**2) / kappa
        points = path.point(middle + turn * (np.arange(721) / 720 - 0.5))
        axis = points[-1] - points[0]
        rise = float(np.linalg.norm(axis)) / turn
    axis /= np.linalg.norm(axis)
    across = (points - np.outer(points @ axis, axis))[:-1]
    return 2 * float(np.linalg.norm(across - across.mean(axis=0), axis=1).mean())
