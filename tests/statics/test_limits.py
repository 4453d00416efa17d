"""Cases with an answer in closed form."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from springgeo.curve import Arc, Helix, Line, Path, Piece
from springgeo.curve.frame import Frame, vector
from springgeo.statics import Contacts, analyse, compliance, stresses

E, G = 206000.0, 206000.0 / 2.6


def coil(C, turns, pitch=1e-6, d=1.0):
    path = Path([Piece(Helix(radius=C * d / 2, pitch=pitch, turns=turns), "body", "body")])
    axis = vector(0, 0, turns * pitch)
    return path, Contacts(0 * axis, axis, 0.0, path.length)


@pytest.mark.parametrize("C", [3, 4, 6, 8, 12, 20])
def test_coil_is_bergstraesser(C):
    # K_B = (4C + 2)/(4C − 3). Source: Shigley eq. 10-5; published. K_B lies up to 0.15 % above
    # the exact ring, the fitted table up to 0.05 % below it
    path, contacts = coil(C, 40)
    result = analyse(path, 1.0, contacts, E, G)
    handbook = (4 * C + 2) / (4 * C - 3) * 8 * C / math.pi
    assert result.peaks["body"].shear.value == pytest.approx(handbook, rel=2e-3)
    assert result.peaks["body"].shear.angle == 0.0
    assert set(result.peaks) == {"body"}


@pytest.mark.parametrize("C", [4, 5, 6, 8, 12, 20])
def test_coil_is_the_ring(C):
    # K = 1 + 5/(4C) + 7/(8C²) + 1/C³. Source: Göhner's series; from memory
    path, contacts = coil(C, 40)
    ring = (1 + 5 / (4 * C) + 7 / (8 * C * C) + 1 / C**3) * 8 * C / math.pi
    found = analyse(path, 1.0, contacts, E, G).peaks["body"].shear.value
    assert found == pytest.approx(ring, rel=6e-4)


@pytest.mark.parametrize("C", [4, 8, 16])
def test_coil_rate_is_goehner(C):
    # k = G d⁴/(8 D³ N) / (1 − 3/(16 C²)): T's part alone at vanishing pitch; published
    path, contacts = coil(C, 30)
    result = analyse(path, 1.0, contacts, E, G)
    assert result.rate == pytest.approx(G / (8 * C**3 * 30) / (1 - 3 / (16 * C * C)), rel=1e-9)


def leg(span=20.0):
    return Path([Piece(Line(span=span), "leg", "straight")])


def test_leg_bent_by_its_tip():
    d, span = 1.0, 20.0
    root = Contacts(vector(span, 0, -1), vector(span, 0, 1), 0.0, span)
    result = analyse(leg(span), d, root, E, G)
    peak = result.peaks["elsewhere"].axial
    assert peak.value == pytest.approx(32 * span / (math.pi * d**3), rel=5e-4)
    assert (peak.s, peak.label) == (0.0, "leg")
    second = math.pi * d**4 / 64
    assert 1 / result.rate == pytest.approx(span**3 / (3 * E * second), rel=1e-12)
    # direct shear of a round bar, k₁ V/A, where it does not bend
    assert result.stress.shear[-1] == pytest.approx(1.6 / 1.3 * 4 / math.pi, rel=1e-3)


def test_leg_pulled_beside_its_axis():
    d, span, arm = 1.0, 20.0, 4.0
    beside = Contacts(vector(0, arm, 0), vector(span, arm, 0), 0.0, span)
    result = analyse(leg(span), d, beside, E, G)
    area, second = math.pi * d**2 / 4, math.pi * d**4 / 64
    peak = 1 / area + arm * d / 2 / second
    assert result.peaks["elsewhere"].axial.value == pytest.approx(peak, rel=5e-4)
    assert 1 / result.rate == pytest.approx(span * (arm**2 / second + 1 / area) / E, rel=1e-12)


def test_in_series_with_itself(hooked_spring):
    path, contacts = hooked_spring(1.0, 4.0, 1.05, 7.3, 2.0, 1.5, math.pi / 2)
    lift = contacts.point_b - contacts.point_a
    twice = Path([*path.pieces, *path.moved(np.eye(3), lift).pieces])
    both = Contacts(contacts.point_a, contacts.point_b + lift, 0.0, twice.length)
    one = compliance(path, 1.0, contacts, E, G)
    two = compliance(twice, 1.0, both, E, G)
    assert sum(two.values()) == pytest.approx(2 * sum(one.values()), rel=1e-12)
    assert set(one) == {"body", "bend", "leg", "loop"}
    for label, part in one.items():
        assert two[label] == pytest.approx(2 * part, rel=1e-11)


def test_turns_add(hooked_spring):
    short, long = (analyse(*_args(hooked_spring(1.0, 3.5, 1.05, n, 1.8, 0.0))) for n in (5, 10))
    assert long.compliance["body"] == pytest.approx(2 * short.compliance["body"], rel=1e-3)
    assert long.compliance["loop"] == pytest.approx(short.compliance["loop"], rel=1e-9)


def _args(spring):
    path, contacts = spring
    return path, 1.0, contacts, E, G


def test_linear_in_the_load(hooked_spring):
    result = analyse(*_args(hooked_spring(1.0, 4.0, 1.05, 5, 2.0, 0.0)))
    ten = result.scaled(-10.0)
    assert ten.load == -10.0
    assert ten.rate == result.rate
    np.testing.assert_allclose(ten.forces.T, -10 * result.forces.T)
    np.testing.assert_allclose(ten.stress.von_mises, 10 * result.stress.von_mises)
    for region, p in result.peaks.items():
        assert ten.peaks[region].shear == replace(p.shear, value=10 * p.shear.value)


def ring(C):
    """Return stations of one turn in the plane, wire diameter 1."""
    arc = Arc.leaving(vector(0, 0, 0), vector(1, 0, 0), vector(0, 1, 0), C / 2, 6.0)
    return Path([Piece(arc, "arc", "loop")]).sample(arc.length / 18)


@pytest.mark.parametrize("C", [4, 5, 6, 8, 12])
def test_without_poisson_bending_is_the_handbooks(C):
    # K_A = (4C² − C − 1)/(4C(C − 1)). Source: Shigley eq. 10-35; published
    moment = vector(0, 0, math.pi / 32)
    inside = stresses(ring(C), np.zeros(3), moment, 1.0, 0.0).stress.axial[9]
    assert inside == pytest.approx((4 * C * C - C - 1) / (4 * C * (C - 1)), rel=2e-3)


@pytest.mark.parametrize("nu", [0.25, 0.35])
def test_coil_hardly_knows_poisson(nu):
    # the ring's first-order term is 5/4 for every ν
    path, contacts = coil(6, 20)
    here, usual = (analyse(path, 1.0, contacts, E, E / (2 * (1 + n))) for n in (nu, 0.3))
    a, b = here.peaks["body"].shear.value, usual.peaks["body"].shear.value
    assert a == pytest.approx(b, rel=3e-3)


def test_wire_beyond_the_contact_carries_nothing(hooked_spring):
    short, long = (hooked_spring(1.0, 4.0, 1.05, 5, 2.0, 0.0, a) for a in (2.0, 3.0))
    a, b = analyse(*_args(short)), analyse(*_args(long))
    assert a.rate == pytest.approx(b.rate, rel=1e-12)
    assert a.peaks["A"].axial.value == pytest.approx(b.peaks["A"].axial.value, rel=1e-9)
    assert b.s[0] == long[1].s_a
    assert b.s[-1] == long[1].s_b
    assert abs(b.forces.M_b[0]) < 1e-9


def test_contact_at_a_joint_leaves_the_tail_out():
    line, tail = Line(span=5.0), Line(span=2.0, frame=Frame(vector(5, 0, 0), np.eye(3)))
    path = Path([Piece(line, "leg", "straight"), Piece(tail, "tail", "loop")])
    for end in (5.0, 5.0 + 1e-15, 5.0 - 1e-15):
        contacts = Contacts(vector(5, 0, -1), vector(5, 0, 1), 0.0, end)
        result = analyse(path, 1.0, contacts, E, G)
        assert set(result.peaks) == {"elsewhere"}
        assert set(result.compliance) == {"leg"}
        assert result.s[-1] == pytest.approx(5.0)


def test_straight_wire_moved_away_has_a_frame():
    seg = Line(span=5.0, frame=Frame(vector(1, 2, 3), np.eye(3)))
    contacts = Contacts(vector(1, 2, 3), vector(6, 2, 3), 0.0, 5.0)
    result = analyse(Path([Piece(seg, "leg", "straight")]), 1.0, contacts, E, G)
    assert result.stress.axial == pytest.approx(4 / math.pi, rel=5e-4)


def test_refusals():
    path, contacts = coil(5, 3)
    with pytest.raises(ValueError, match="not on the"):
        analyse(path, 1.0, replace(contacts, s_b=path.length + 1), E, G)
    with pytest.raises(ValueError, match="before"):
        replace(contacts, s_a=contacts.s_b)
    with pytest.raises(ValueError, match="coincide"):
        replace(contacts, point_b=contacts.point_a)
    with pytest.raises(ValueError, match="positive"):
        analyse(path, 0.0, contacts, E, G)
