"""The loaded spring answers everything a drawn one does, read off the loaded wire."""

from __future__ import annotations

import math

import numpy as np
import pytest

from springgeo.curve import body_approach
from springgeo.ends import registry
from springgeo.equilibrium.state.loaded_geometry import LoadedGeometry
from tests.equilibrium.rods import curve_of, spring


@pytest.mark.parametrize("style", sorted(registry.styles()))
def test_contacts_are_as_far_apart_as_the_length_says(style: str) -> None:
    curve = curve_of(spring(style, coils=8.0))
    drawn = curve.spring.geometry
    state = curve.state(load=15.0)
    g = LoadedGeometry.of(drawn, state)
    a, b = g.contacts
    apart = float(np.linalg.norm(b - a))
    assert apart == pytest.approx(g.length, abs=0.01 * drawn.wire_diameter)
    assert a == pytest.approx(drawn.contacts[0], abs=1e-6)
    assert g.path.length == pytest.approx(drawn.path.length, rel=1e-9)
    assert len(g.parts) == len(drawn.parts)
    low, high = g.body_faces
    assert drawn.body_length < high - low < g.length
    # each section is a disc: it reaches r √(1 − t²) along an axis with which its tangent makes t
    s = np.linspace(0.0, g.path.length, 20_001)
    point, reach = g.path.point(s), g.path.tangent(s)
    reach = drawn.wire_diameter / 2 * np.sqrt(np.maximum(0.0, 1 - reach**2))
    lows = [(point - reach).min(axis=0), *(p.box[0] for p in g.parts)]
    highs = [(point + reach).max(axis=0), *(p.box[1] for p in g.parts)]
    assert g.box[0] == pytest.approx(np.min(lows, axis=0), abs=1e-4)
    assert g.box[1] == pytest.approx(np.max(highs, axis=0), abs=1e-4)
    assert g.overall_length == pytest.approx(g.box[1, 2] - g.box[0, 2])


def test_turns_keep_their_distance() -> None:
    """From points: neighbouring turns of the loaded body, found without what the room knows."""
    curve = curve_of(spring("full-loop-at-side", D=12.0, coils=10.0))
    path = curve.state(load=8.0).path
    near = body_approach(path)
    assert near is not None
    piece, start = next((p, s) for p, s in path if p.role == "body")
    s = np.linspace(start, start + piece.segment.length, 3000)
    point = path.point(s)
    turn = math.pi * 12.0
    gap = np.linalg.norm(point[:, None] - point, axis=2)
    least = float(gap[np.abs(s[:, None] - s) > 0.6 * turn].min())
    assert near.distance == pytest.approx(least, rel=2e-3)


def test_side_loops_bow_toward_the_pull() -> None:
    curve = curve_of(spring("full-loop-at-side", D=12.0, coils=20.0))
    drawn = curve.spring.geometry
    middle = np.array([drawn.path.length / 2 + k * math.pi * 6 for k in range(-1, 2)])
    contact = drawn.contacts[0][:2]
    before = np.linalg.norm(drawn.path.point(middle)[:, :2].mean(axis=0) - contact)
    loaded = LoadedGeometry.of(drawn, curve.state(load=20.0))
    after = np.linalg.norm(loaded.path.point(middle)[:, :2].mean(axis=0) - contact)
    assert after < before - 1.0


def test_energy_is_the_area_under_the_curve() -> None:
    curve = curve_of(spring("full-twisted-loop", coils=12.0))
    lengths = np.linspace(curve.free_length - 1.0, curve.length(30.0), 400)
    load, energy = curve.loads(lengths)
    slack = lengths <= curve.free_length
    assert (load[slack] == 0.0).all()
    assert (energy[slack] == 0.0).all()
    area = np.concatenate([[0.0], np.cumsum(np.diff(lengths) * (load[1:] + load[:-1]) / 2)])
    assert energy[-1] == pytest.approx(area[-1], rel=2e-3)
    assert curve.length(float(load[-1])) == pytest.approx(lengths[-1], abs=1e-6)


@pytest.mark.parametrize("style", ["coned-swivel-bolt", "machine-half-loop"])
def test_body_shear_beside_an_end_is_that_of_its_arm(style: str) -> None:
    """Statics alone: the torsion of a coil is the pull times its distance from the line of pull.

    Under load a body's end leans and its coil moves off that line, the more the further out the
    point of pull: 2 to 3 % more shear than the drawn shape's, and no fault of the grip. 0.5 %: the
    coil's wire is not quite level.
    """
    made = spring(style, coils=8.3)
    curve, wire = made.load_curve, made.along_the_wire
    load = 3 * curve.initial_tension
    path = curve.state(load=load).path
    start = next(s for p, s in path if p.role == "body")
    length = sum(p.segment.length for p, _ in path if p.role == "body")
    point = path.point(np.linspace(start, start + length, 2000))
    first, last = curve.solve(load).shape, curve.balance.rod.supports
    a = last.a.point(first.R[0], first.p[0])[:2]
    drawn = made.model.geometry
    line = LoadedGeometry.of(drawn, curve.state(load=load)).contacts[0][:2]
    assert a == pytest.approx(np.zeros(2), abs=1e-9)
    arm = float(np.hypot(*(point[:, :2] - line).T).max()) / drawn.coil_radius
    more = wire.at(load).peaks["body"].shear.value
    more /= wire.unit.scaled(load).peaks["body"].shear.value
    assert arm > 1.02
    assert more == pytest.approx(arm, abs=5e-3)
