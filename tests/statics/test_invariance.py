"""The answer depends on the wire's shape, not on where or how it is described."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.curve.frame import MIRROR, rotation_z
from springgeo.statics import Contacts, analyse
from springgeo.statics.regions import REGIONS

E, G = 206000.0, 79300.0

springs = st.builds(  # arguments of hooked_spring
    lambda C, turns, bend, leg, past: (
        1.0,
        C / 2,
        1.05,
        turns,
        max(1.0, bend * C / 2),
        leg,
        math.pi / 2 + past,
    ),
    st.floats(4, 14),
    st.floats(2, 12),
    st.floats(0.3, 0.6),
    st.sampled_from([0.0, 0.4, 5.0]),
    st.floats(0, 2.5),
)
angles = st.floats(-3, 3)


def answer(path, contacts):
    return analyse(path, 1.0, contacts, E, G)


def agree(one, two, spin=1.0):
    assert abs(one.rate / two.rate - 1) < 1e-9
    assert one.peaks.keys() == two.peaks.keys()
    for region, p in one.peaks.items():
        for name in ("axial", "shear", "von_mises"):
            a, b = getattr(p, name), getattr(two.peaks[region], name)
            assert abs(a.value / b.value - 1) < 1e-7
            assert a.label == b.label
    np.testing.assert_allclose(one.stress.von_mises, two.stress.von_mises, rtol=1e-7, atol=1e-9)
    np.testing.assert_allclose(one.forces.T, spin * two.forces.T, atol=1e-7)


def turned(contacts, axes, origin):
    return Contacts(
        origin + axes @ contacts.point_a,
        origin + axes @ contacts.point_b,
        contacts.s_a,
        contacts.s_b,
    )


@settings(max_examples=25, deadline=None)
@given(springs, angles, angles)
def test_rotation(hooked_spring, spring, first, second):
    path, contacts = hooked_spring(*spring)
    tilt = rotation_z(first)[:, [2, 0, 1]][[2, 0, 1]]
    axes, origin = tilt @ rotation_z(second), np.array([3.0, -20.0, 7.0])
    agree(answer(path, contacts), answer(path.moved(axes, origin), turned(contacts, axes, origin)))


@settings(max_examples=25, deadline=None)
@given(springs)
def test_mirror(hooked_spring, spring):
    path, contacts = hooked_spring(*spring)
    mirrored = turned(contacts, MIRROR, np.zeros(3))
    agree(answer(path, contacts), answer(path.moved(MIRROR, np.zeros(3)), mirrored), spin=-1.0)


@settings(max_examples=25, deadline=None)
@given(springs)
def test_reversal(hooked_spring, spring):
    path, contacts = hooked_spring(*spring)
    back = Contacts(
        contacts.point_b, contacts.point_a, path.length - contacts.s_b, path.length - contacts.s_a
    )
    one, two = answer(path, contacts), answer(path.reversed(), back)
    assert abs(one.rate / two.rate - 1) < 1e-9
    for region, p in one.peaks.items():
        for name in ("axial", "shear", "von_mises"):
            a, b = getattr(p, name).value, getattr(two.peaks[region], name).value
            assert abs(a / b - 1) < 1e-7
    np.testing.assert_allclose(one.stress.shear, two.stress.shear[::-1], rtol=1e-7, atol=1e-9)


@settings(max_examples=25, deadline=None)
@given(springs)
def test_every_station_is_somewhere(hooked_spring, spring):
    path, contacts = hooked_spring(*spring)
    result = answer(path, contacts)
    roles = np.array([p.role for p in path.pieces])[result.index]
    names = np.array(REGIONS)[result.region]
    assert set(names[roles == "body"]) == {"body", "B"}
    assert set(names[roles == "loop"]) == {"A"}
    # the very end of a bend counts to the loop it joins
    assert "B" in set(names[roles == "bend"]) <= {"B", "A"}
    assert max(p.shear.value for p in result.peaks.values()) == result.stress.shear.max()
    assert np.isfinite(result.stress.von_mises).all()
