"""States under load: wire conserved, both ways consistent, against non-linear finite elements."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest

import springgeo as sg
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.specification.load import presets
from springgeo.spring.bent import End
from springgeo.spring.state import Pull, _quick, _steady

FE = json.loads((Path(__file__).parents[1] / "published" / "fe_cases.json").read_text())
HOOK = {"style": "machine-half-loop", "bend_radius": 4}


def fe_spring() -> sg.Spring:
    return sg.Spring.from_dict(
        {
            "wire": {
                "material": "en-10270-1-sm",
                "diameter": 2,
                "elastic_modulus": 206000,
                "shear_modulus": 206000 / 2.6,
            },
            "body": {"mean_diameter": 16, "coils": 6, "pitch": 2.1},
            "ends": {"a": HOOK, "b": HOOK},
        }
    )


@pytest.mark.parametrize("step", FE["nonlinear"]["steps"], ids=lambda s: f"{s['F']:g} N")
def test_against_nonlinear_finite_elements(step: dict[str, float]) -> None:
    # finite elements: CalculiX C3D20R, large displacements (case C8_half_r2d of fe_cases.json)
    spring = fe_spring()
    state = spring.at(length=spring.free_length + step["delta"])
    assert 2 * state.geometry.radius == pytest.approx(step["D_mid"], rel=1e-3)
    assert state.geometry.pitch == pytest.approx(step["pitch_2turn_window"], rel=5e-3)
    # the straight load line is the small-load rate; coils stiffen by 1.1 % at the last step
    assert state.load == pytest.approx(step["F"], rel=0.013)


@pytest.mark.parametrize("name", presets())
@pytest.mark.parametrize("stretch", [0.003, 0.2, 0.7])
def test_wire_is_conserved_and_length_closes(name: str, stretch: float) -> None:
    spring = sg.Spring.from_preset(name)
    free = spring.model.geometry
    length = free.length * (1 + stretch)
    state = spring.at(length=length)
    assert state.centreline.length == pytest.approx(free.path.length, rel=1e-9)
    assert state.geometry.length == pytest.approx(length, rel=1e-9)
    assert state.centreline.joint_angles().max() < 1e-9
    assert state.geometry.radius < free.radius
    assert state.box[1, 2] - state.box[0, 2] == pytest.approx(
        state.geometry.overall_length, rel=1e-9
    )


@pytest.mark.parametrize("name", presets())
@pytest.mark.parametrize("rate", ["handbook", "along-the-wire"])
def test_load_to_length_and_back(name: str, rate: str) -> None:
    spring = sg.Spring.from_preset(name)
    load = spring.summary().points[-1].load
    there = spring.at(load=load, rate=rate)
    assert spring.at(length=there.length, rate=rate).load == pytest.approx(load, rel=1e-9)


def test_hooks_keep_their_radii() -> None:
    spring = sg.Spring.from_preset("paper-feed-return")
    free, state = spring.model.geometry, spring.at(length=spring.free_length * 1.5).geometry
    # the coil's end steepens: it lifts a loop that lies across it, and straightens a bend
    lift = 2 * free.radius * math.atan2(state.pitch - free.pitch, 2 * math.pi * free.radius)
    for before, after in ((free.a, state.a), (free.b, state.b)):
        assert after.bend_radius == before.bend_radius
        assert after.loop_radius == before.loop_radius
        assert before.hook_length < after.hook_length < before.hook_length + lift


def test_below_initial_tension_nothing_moves() -> None:
    spring = sg.Spring.from_preset("gate-latch")
    force = spring.summary().initial_tension.force
    for load in (0.0, 0.5 * force, force):
        assert spring.at(load=load).geometry is spring.model.geometry


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"length": 1.0}, "length-below-free"),
        ({"length": 1e6}, "beyond-straight-wire"),
        ({"length": float("nan")}, "bad-value"),
        ({"load": float("inf")}, "bad-value"),
        ({"load": -1.0}, "bad-value"),
        ({}, "one-of-two"),
        ({"load": 10.0, "length": 50.0}, "one-of-two"),
    ],
)
def test_refusals(given: dict[str, float], code: str) -> None:
    with pytest.raises(sg.SpecError) as caught:
        sg.Spring.from_preset("gate-latch").at(**given)
    assert [f.code for f in caught.value.findings] == [code]


def test_state_mesh_is_watertight_and_keeps_the_volume() -> None:
    spring = sg.Spring.from_preset("gate-latch")
    free, state = (
        spring.at(length=x).mesh().trimesh() for x in (spring.free_length, spring.free_length * 1.3)
    )
    assert state.is_watertight
    assert np.isclose(state.volume, free.volume, rtol=2e-3)


@pytest.mark.parametrize("stretch", [1.001, 1.05, 1.5])
@pytest.mark.parametrize("style", ["machine-half-loop", "full-twisted-loop", "raised-hook"])
def test_the_fewest_coils_converge_too(style: str, stretch: float) -> None:
    spring = sg.Spring.from_dict(
        {
            "wire": {"diameter": 1},
            "body": {"index": 8, "coils": 2, "initial_tension": 5},
            "ends": {"a": {"style": style}, "b": {"style": style}},
        }
    )
    state = spring.at(length=spring.free_length * stretch)
    assert state.geometry.length == pytest.approx(spring.free_length * stretch, rel=1e-9)
    assert state.centreline.length == pytest.approx(spring.centreline.length, rel=1e-9)


STYLES = ("machine-half-loop", "full-twisted-loop", "reduced-full-loop", "v-hook")


def coils(style: str, count: float) -> sg.Spring:
    return sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": count},
            "ends": {"a": {"style": style}, "b": {"style": "machine-half-loop"}},
        }
    )


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("count", [8, 50])
def test_both_ways_to_a_state_agree(style: str, count: float) -> None:
    """Broyden's method and plain small steps end at the same spring, to 1e-9."""
    made = coils(style, count)
    pull = Pull(made.model.geometry, made.model.bent, 1.3 * made.free_length)
    quick, steady = _quick(pull), _steady(pull)
    assert quick is not None
    for name in ("radius", "pitch", "turns", "length"):
        assert getattr(quick, name) == pytest.approx(getattr(steady, name), rel=1e-10)
    s = np.linspace(0.0, quick.path.length, 200)
    apart = np.abs(quick.path.point(s) - steady.path.point(s)).max()
    assert apart < 1e-9 * made.free_length


@pytest.mark.parametrize("style", STYLES)
def test_a_state_takes_few_shapes(style: str, monkeypatch: pytest.MonkeyPatch) -> None:
    made, asked = coils(style, 50), []
    shape = End.shape
    bent = made.model.bent  # asks for shapes of its own, once

    def counted(self: End, body_end: BodyEnd) -> EndShape:
        asked.append(self.side)
        return shape(self, body_end)

    monkeypatch.setattr(End, "shape", counted)
    made.at(length=1.3 * made.free_length)
    assert made.model.bent is bent
    assert max(asked.count("a"), asked.count("b")) <= 9


@pytest.mark.parametrize("style", ["reduced-full-loop", "reduced-half-loop"])
@pytest.mark.parametrize("stretch", [1.001, 1.2, 1.5])
def test_ends_that_outweigh_the_body(style: str, stretch: float) -> None:
    """Two times three reduced coils on three coils of body: the ends answer more than the body."""
    made = sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 3},
            "ends": {"a": {"style": style}, "b": {"style": style}},
        }
    )
    state = made.at(length=stretch * made.free_length)
    assert state.geometry.length == pytest.approx(stretch * made.free_length, rel=1e-11)
    assert state.centreline.length == pytest.approx(made.centreline.length, rel=1e-11)
