"""States under load: wire conserved, both ways consistent, against non-linear finite elements."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest

import springgeo as sg
from springgeo.specification.load import presets
from tests.gate import thinned
from tests.springs import kept

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
            "ends": {"first": HOOK, "second": HOOK},
        }
    )


@pytest.mark.parametrize("step", FE["nonlinear"]["steps"], ids=lambda s: f"{s['F']:g} N")
def test_against_nonlinear_finite_elements(step: dict[str, float]) -> None:
    # finite elements: CalculiX C3D20R, large displacements (case C8_half_r2d of fe_cases.json)
    spring = fe_spring()
    state = spring.at(length=spring.free_length + step["delta"])
    small = FE["nonlinear"]["small_load_rate_same_mesh"]
    linear = spring.summary().along_the_wire.rate
    assert state.load / linear == pytest.approx(step["F"] / small, rel=1e-3)
    # pitch of the two middle turns
    path = state.centreline
    middle = path.length / 2
    turn = math.hypot(math.pi * step["D_mid"], step["pitch_2turn_window"])
    rise = path.point(np.array([middle + turn]))[0, 2] - path.point(np.array([middle - turn]))[0, 2]
    assert rise / 2 == pytest.approx(step["pitch_2turn_window"], rel=4e-3)


@pytest.mark.parametrize(("name", "stretch"), thinned(3, sorted(presets()), [0.003, 0.2, 0.7]))
def test_wire_is_conserved_and_length_closes(name: str, stretch: float) -> None:
    spring = kept(name)
    free = spring.model.geometry
    length = free.length * (1 + stretch)
    state = spring.at(length=length)
    assert state.centreline.length == pytest.approx(free.path.length, rel=1e-9)
    assert state.geometry.length == pytest.approx(length, rel=1e-9)
    assert state.centreline.joint_angles().max() < 1e-9
    # hooks and fitted parts lean a little under load
    assert state.box[1, 2] - state.box[0, 2] == pytest.approx(
        state.geometry.overall_length, rel=2e-3
    )


@pytest.mark.parametrize("name", presets())
def test_load_to_length_and_back(name: str) -> None:
    spring = kept(name)
    load = spring.summary().points[-1].load
    there = spring.at(load=load)
    assert spring.at(length=there.length).load == pytest.approx(load, rel=1e-9)


def test_without_load_nothing_moves() -> None:
    spring = kept("gate-latch")
    for state in (spring.at(load=0.0), spring.at(length=spring.free_length)):
        assert state.geometry is spring.model.geometry
        assert state.load == 0.0


def test_below_initial_tension_hooks_alone_give() -> None:
    spring = kept("gate-latch")
    force = spring.summary().initial_tension.force
    half = spring.at(load=0.5 * force)
    rise = half.length - spring.free_length
    assert 0.0 < rise < 0.1 * (spring.at(load=1.5 * force).length - spring.free_length)
    low, high = half.geometry.body_faces
    # the outermost coils part a little: less than the whole gives
    assert 0.0 <= high - low - spring.model.geometry.body_length < rise


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
        kept("gate-latch").at(**given)
    assert [f.code for f in caught.value.findings] == [code]


def test_state_mesh_is_watertight_and_keeps_the_volume() -> None:
    spring = kept("gate-latch")
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
            "ends": {"first": {"style": style}, "second": {"style": style}},
        }
    )
    state = spring.at(length=spring.free_length * stretch)
    assert state.geometry.length == pytest.approx(spring.free_length * stretch, rel=1e-9)
    assert state.centreline.length == pytest.approx(spring.centreline.length, rel=1e-9)


@pytest.mark.parametrize("style", ["reduced-full-loop", "reduced-half-loop"])
@pytest.mark.parametrize("stretch", [1.001, 1.2, 1.5])
def test_ends_that_outweigh_the_body(style: str, stretch: float) -> None:
    """Two times three reduced coils on three coils of body: the ends answer more than the body."""
    made = sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 3},
            "ends": {"first": {"style": style}, "second": {"style": style}},
        }
    )
    state = made.at(length=stretch * made.free_length)
    assert state.geometry.length == pytest.approx(stretch * made.free_length, rel=1e-9)
    assert state.centreline.length == pytest.approx(made.centreline.length, rel=1e-9)


# loop at the side and a hook over the centre; loops at the side, a right angle apart
@pytest.mark.parametrize(
    "ends",
    [
        {"first": "full-loop-at-side", "second": "machine-half-loop"},
        {"first": "full-loop-at-side", "second": "full-loop-at-side", "facing": 90},
    ],
)
def test_contacts_out_of_line_are_told_and_their_states_built(
    ends: dict[str, object], tmp_path: Path
) -> None:
    """The pull runs from contact to contact, and the length with it: the spring turns into it."""
    spring = sg.Spring.from_dict(
        {
            "wire": {"diameter": 1},
            "body": {"mean_diameter": 8, "coils": 6.3, "hand": "left"},
            "ends": ends,
            "service": {"loads": [15, 20]},
        }
    )
    g = spring.free.geometry
    a, b = g.path.point(np.array(g.contact_s))
    across = math.hypot(*(b - a)[:2])
    assert across > 3.9
    more = math.hypot(across, b[2] - a[2]) - (b - a)[2]
    state = spring.at(load=20)
    a, b = state.centreline.point(np.array(state.geometry.contact_s))
    assert b[2] - a[2] - 1.0 == pytest.approx(state.length, abs=1e-5)
    assert spring.free_length == pytest.approx(g.height + more, rel=1e-12)
    (told,) = [f for f in spring.summary().findings if f.code == "contacts-out-of-line"]
    assert f"{more:.4g} mm longer" in told.message
    written = state.export(tmp_path, formats=["stl", "json"])
    assert "extension-spring-20N.stl" in [x.name for x in written]


def test_contacts_in_line_draw_no_remark() -> None:
    spring = kept("gate-latch")
    assert "contacts-out-of-line" not in [f.code for f in spring.summary().findings]
