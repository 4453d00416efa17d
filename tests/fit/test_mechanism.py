"""Two pins: geometry by hand, torque as the slope of the energy, poses against the contacts."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest

from springgeo import SpecError
from springgeo.curve.frame import Array
from springgeo.fit.mechanism import Lever, Slide, dead_centres, run


@dataclass(frozen=True)
class StraightLine:
    """A spring of which everything is known by hand: slack below the free length."""

    initial_tension: float
    rate: float
    free_length: float

    def loads(self, lengths: Array) -> tuple[Array, Array]:
        rise = np.maximum(lengths - self.free_length, 0.0)
        load = np.where(lengths < self.free_length, 0.0, self.initial_tension + self.rate * rise)
        return load, (self.initial_tension + self.rate * rise / 2) * rise


LINE = StraightLine(initial_tension=7.0, rate=1.3, free_length=38.0)
LEVER = Lever(pivot=(0.0, 0.0), radius=25.0, start=math.radians(30), end=math.radians(150))
FIXED = (0.0, -30.0)


def test_length_by_the_law_of_cosines() -> None:
    m = run(LINE, FIXED, LEVER, pins=(5.0, 4.0))
    between = m.drive + math.pi / 2
    wanted = np.sqrt(25**2 + 30**2 - 2 * 25 * 30 * np.cos(between)) + 4.5
    np.testing.assert_allclose(m.length, wanted, rtol=1e-12)
    np.testing.assert_allclose(m.load, 7 + 1.3 * (wanted - 38), rtol=1e-12)


@pytest.mark.parametrize("motion", [LEVER, Slide((10.0, 15.0), (60.0, 30.0))])
def test_effort_is_minus_the_slope_of_the_energy(motion: Lever | Slide) -> None:
    m = run(LINE, FIXED, motion, pins=(5.0, 5.0), stations=20001)
    slope = np.gradient(m.energy, m.drive, edge_order=2)
    np.testing.assert_allclose(m.effort, -slope, atol=1e-4 * np.abs(m.effort).max())


def test_dead_centre_has_no_torque_and_turns_its_sign() -> None:
    (centre,) = dead_centres(FIXED, LEVER)
    assert centre == pytest.approx(math.pi / 2)
    step = math.radians(1)
    m = run(LINE, FIXED, Lever((0, 0), 25.0, centre - step, centre + step), stations=3)
    assert abs(m.effort[1]) < 1e-9
    assert m.effort[0] < 0 < m.effort[2]  # unstable: the spring drives away from it


def test_below_free_length_it_is_slack() -> None:
    m = run(LINE, (0.0, 0.0), Slide((30.0, 0.0), (50.0, 0.0)), stations=201)
    assert m.slack[0]
    assert m.load[0] == 0.0
    assert m.load[~m.slack][0] == pytest.approx(7.0, abs=0.2)  # at once the initial tension
    assert [f.code for f in m.findings] == ["slack"]


def test_over_travel_is_found() -> None:
    m = run(LINE, (0.0, 0.0), Slide((40.0, 0.0), (90.0, 0.0)), longest=80.0)
    assert "80 mm" in m.findings[0].message
    assert m.findings[0].code == "over-travel-unsafe"


def test_pose_carries_the_contacts_onto_the_pins() -> None:
    m = run(LINE, FIXED, LEVER, pins=(5.0, 4.0), stations=7)
    _, place, _ = LEVER.at(np.linspace(0, 1, 7))
    for i in range(7):
        np.testing.assert_allclose(m.rotation[i].T @ m.rotation[i], np.eye(3), atol=1e-12)
        assert np.linalg.det(m.rotation[i]) == pytest.approx(1.0)
        second_end = m.translation[i] + m.rotation[i] @ np.array([0, 0, m.length[i]])
        assert np.linalg.norm(m.translation[i][:2] - FIXED) == pytest.approx(2.5)
        assert np.linalg.norm(second_end[:2] - place[i]) == pytest.approx(2.0)


def test_pins_that_meet_are_refused() -> None:
    with pytest.raises(SpecError, match="pins-meet"):
        run(LINE, (0.0, 0.0), Slide((-20.0, 0.0), (20.0, 0.0)))
    with pytest.raises(SpecError, match="stations"):
        run(LINE, FIXED, LEVER, stations=1)
