"""Any solid at all as an obstacle: against our closed forms, and against the kernel's extrema."""

from __future__ import annotations

import re
from pathlib import Path

import cadquery as cq
import numpy as np
import pytest

from springgeo import SpecError, Spring, cad
from springgeo.cad.solids import part_solid
from springgeo.errors import BuildError, FileError
from springgeo.fit import Attached, Cylinder, HolePlate, Obstacle, Wire, clearance, fit
from springgeo.state import State

PIN = Cylinder(np.array([1.0, 2.0, 3.0]), np.array([0.2, 1.0, 0.3]), 1.7, 9.0)
PLATE = HolePlate(np.array([0.5, -1.0, 2.0]), np.eye(3), 1.5, 2.0, 3.0)


@pytest.fixture(scope="module")
def state(short: Spring) -> State:
    return short.at(length=short.free_length)


@pytest.mark.parametrize("part", [PIN, PLATE], ids=["pin", "plate"])
def test_distances_of_points(part: Obstacle) -> None:
    rng = np.random.default_rng(4)
    points = rng.uniform(-6, 8, (200, 3))
    found = cad.SolidObstacle(part_solid(part)).distance(points)
    wanted = part.distance(points)
    assert (np.sign(found) == np.sign(wanted)).all()
    near = wanted <= wanted[wanted > 0].min()  # the others may be left at a lower bound
    np.testing.assert_allclose(found[near], wanted[near], atol=1e-6)
    assert (found <= wanted + 1e-6).all()


def test_same_answer_as_the_kernels_extrema(state: State) -> None:
    wire, body = Wire.of(state.geometry.path, state.geometry.wire_diameter), state.solid()
    rng = np.random.default_rng(5)
    clear = 0
    for _ in range(8):
        angle, out, up = rng.uniform((0, 7, 0), (7, 11, state.length))
        box = cq.Workplane().box(*rng.uniform(1, 6, 3)).edges("|Z").chamfer(0.2).val()
        turned = box.rotate((0, 0, 0), tuple(rng.normal(size=3)), float(rng.uniform(0, 90)))
        shape = turned.moved(cq.Location((out * np.cos(angle), out * np.sin(angle), up)))
        own = clearance(wire, cad.SolidObstacle(shape)).distance
        kernel = cad.kernel_clearance(body, shape)
        if own > 0:
            clear += 1
            assert own == pytest.approx(kernel, abs=1e-4)
        else:
            assert cad.overlap_volume(body, shape) > 0
    assert 3 <= clear <= 7


def test_solids_over_the_stroke(short: Spring) -> None:
    inward = cq.Workplane().box(2, 2, 2).translate((0, 0, -6)).val()
    wall = cq.Workplane().box(2, 40, 90).translate((6.3, 0, 20)).val()
    found = fit(
        short,
        states=3,
        solids={
            "clip": Attached(cad.SolidObstacle(inward), "second"),
            "wall": cad.SolidObstacle(wall),
        },
    )
    # what goes with end B keeps its distance; a wall 5.3 mm off the axis cuts 0.1 mm in
    clip = [s.solids["clip"].distance for s in found.states]
    assert clip == pytest.approx([clip[0]] * len(clip), abs=1e-6)
    assert found.states[0].solids["wall"].distance == pytest.approx(-0.1, abs=1e-6)
    (message,) = [f.message for f in found.findings if f.code == "solid-meets-spring"]
    assert "runs 0.1 mm into" in message
    assert "move it away" in message
    assert found.table()[0][-3:] == ["clip", "wall", "verdict"]
    assert '"clip"' in found.json_text()


def test_a_step_file_is_an_obstacle(tmp_path: Path) -> None:
    file = tmp_path / "block.step"
    cq.exporters.export(cq.Workplane().box(2, 2, 2), str(file))
    block = cad.SolidObstacle.read(file)
    assert block.distance(np.array([[0.0, 0.0, 3.0]])) == pytest.approx([2.0])
    assert block.distance(np.array([[0.0, 0.0, 0.4]])) == pytest.approx([-0.6])
    with pytest.raises(FileError, match="no such file"):
        cad.SolidObstacle.read(tmp_path / "none.step")


def test_a_damaged_step_file_brings_nobody_down(tmp_path: Path) -> None:
    file = tmp_path / "block.step"
    cq.exporters.export(cq.Workplane().box(2, 2, 2), str(file))
    text = file.read_text()
    low, high = next(re.finditer(r"= ?VECTOR\([^;]*?(#\d+)", text)).span(1)
    file.write_text(f"{text[:low]}${text[high:]}")
    with pytest.raises(FileError, match="damaged: the process that read it was ended by SIG"):
        cad.SolidObstacle.read(file)


def test_what_is_no_solid_is_refused() -> None:
    with pytest.raises(BuildError, match="without a solid"):
        cad.SolidObstacle(cq.Workplane().rect(2, 2).extrude(1).faces(">Z").val())
    plain = Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 4},
            "ends": {"first": {"style": "plain"}, "second": {"style": "plain"}},
        }
    )
    with pytest.raises(SpecError, match="without Attached"):
        fit(plain, states=1, solids={"x": Attached(PIN, "first")})
