"""A state found by a leap is the one that small steps lead to."""

from __future__ import annotations

from dataclasses import replace

import pytest

import springgeo as sg
from springgeo.equilibrium.branch import same_branch, strain_energy


def slender() -> sg.Spring:
    """Return few wide coils of thin wire: they go far, and have many shapes in balance."""
    return sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 0.5},
            "body": {"index": 22, "coils": 6, "initial_tension": 0.1},
            "ends": {"first": "machine-half-loop", "second": "machine-half-loop"},
        }
    )


def test_a_leap_leads_where_small_steps_lead() -> None:
    """Thirty times the load at once: neighbouring coils, turned away, are not taken to press."""
    leap, steps = slender().load_curve, slender().load_curve
    leap.solve(0.5)
    for load in (0.5, 1.0, 2.0, 4.0, 8.0, 12.0, 14.0):
        steps.solve(load)
    assert leap.length(16.0) == pytest.approx(steps.length(16.0), abs=1e-8)
    assert not leap.balance.in_contact(leap.solve(16.0).shape)


def test_work_is_energy_along_one_curve_alone() -> None:
    """Clapeyron for a curve: ∫F dx, by Simpson's rule on many states, is what the wire holds."""
    curve = slender().load_curve
    before, after = curve.solve(0.5), curve.solve(8.0)
    rod = curve.balance.rod
    assert same_branch(rod, before, after)
    assert not same_branch(rod, before, replace(after, extension=1.05 * after.extension))
    grown = [before.extension + i / 40 * (after.extension - before.extension) for i in range(41)]
    load = [curve.load(curve.free_length + x) for x in grown]
    h = grown[1] - grown[0]
    work = h / 3 * (load[0] + 4 * sum(load[1:-1:2]) + 2 * sum(load[2:-1:2]) + load[-1])
    taken = strain_energy(rod, after.shape) - strain_energy(rod, before.shape)
    # the wire's own stretch, of which strain_energy knows nothing, takes 2e-4 here
    assert work == pytest.approx(taken, rel=4e-4)
