"""A few turns of a body are asked fibre by fibre; the others follow from them."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.overload import wire as sections_of_wire
from springgeo.overload.asked import Asked, asked
from springgeo.overload.law import Law
from springgeo.overload.spring import Overloaded
from tests.equilibrium.rods import curve_of, spring


def everything(wire: object) -> Asked:
    n = 2 * len(wire.length)  # type: ignore[attr-defined]
    every = np.arange(n)
    return Asked(every, every, every, np.zeros(n))


def test_few_of_many_turns_and_every_section_between_two_of_its_own_place() -> None:
    rod = curve_of(spring("machine-half-loop", D=8.0, coils=40.0)).balance.rod
    found, n = asked(rod.drawn), len(rod.drawn.length)
    assert len(found.rows) < 0.35 * 2 * n
    low, high = found.rows[found.low], found.rows[found.high]
    assert np.all((low - np.arange(2 * n)) % 8 == 0)
    assert np.all((high - np.arange(2 * n)) % 8 == 0)
    # what changes evenly from turn to turn is met
    even = (np.arange(2 * n) % n // 8).astype(float)
    body = low != high
    assert body.sum() > n
    np.testing.assert_allclose(found.spread(even[found.rows])[body], even[body], atol=1.0)
    every = np.arange(2 * n)
    np.testing.assert_allclose(found.spread(every[found.rows].astype(float)), every, atol=1e-9)


def test_short_bodies_are_asked_throughout() -> None:
    rod = curve_of(spring("machine-half-loop", D=8.0, coils=6.0)).balance.rod
    assert len(asked(rod.drawn).rows) == 2 * len(rod.drawn.length)


@pytest.mark.parametrize("style", ["machine-half-loop", "hook-at-side"])
@pytest.mark.parametrize("coils", [17.0, pytest.param(24.0, marks=pytest.mark.slow)])
def test_the_answer_is_that_of_all_sections(
    style: str, coils: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Pulled in the middle, and at the side, where every turn bears most on one side."""
    curve = curve_of(spring(style, D=8.0, coils=coils))
    drawn = curve.balance.rod.drawn
    assert len(asked(drawn).rows) < 0.8 * 2 * len(drawn.length)
    law = Law(curve.spring.E, curve.spring.G, 1300.0, 900.0)
    few = Overloaded(curve, law)
    load = 1.1 * np.pi * law.torsion / 8 / 8  # the coils yield
    found = few.after_load(load)
    monkeypatch.setattr(sections_of_wire, "asked", everything)
    exact = Overloaded(curve, law).after_load(load)
    assert found.lengthened > 1e-3 * curve.free_length
    assert found.lengthened == pytest.approx(exact.lengthened, rel=1e-2)
    assert found.length == pytest.approx(exact.length, rel=5e-4)
    assert found.initial_tension == pytest.approx(exact.initial_tension, rel=1e-2)
