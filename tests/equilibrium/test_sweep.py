"""Many states at once agree with the same states one by one."""

from __future__ import annotations

import numpy as np
import pytest

from tests.equilibrium.rods import curve_of, spring


@pytest.mark.parametrize(
    "style", ["full-twisted-loop", "hook-at-side", "double-twisted-full-loop", "coned-swivel-eye"]
)
def test_sweep_agrees_with_single_states(style: str) -> None:
    made = spring(style, D=10.0, coils=8.0)
    sweep, single = curve_of(made), curve_of(made)
    longest = single.length(6 * single.initial_tension)
    lengths = np.linspace(single.free_length, longest, 60).tolist()
    states = sweep.states(lengths=lengths)
    assert [s.length for s in states] == pytest.approx(lengths, abs=1e-7)
    for state in states[1::14]:
        alone = single.state(length=state.length)
        s = np.linspace(0.0, state.path.length, 400)
        off = np.linalg.norm(state.path.point(s) - alone.path.point(s), axis=1)
        assert off.max() < 5e-4
        assert state.load == pytest.approx(alone.load, rel=1e-4)
        assert state.path.length == pytest.approx(alone.path.length, rel=1e-12)


def test_loads_as_well() -> None:
    made = spring("full-twisted-loop", coils=12.0)
    sweep, single = curve_of(made), curve_of(made)
    loads = np.linspace(0.0, 30.0, 25).tolist()
    lengths = [s.length for s in sweep.states(loads=loads)]
    assert lengths == pytest.approx([single.length(x) for x in loads], abs=1e-4)
    assert (np.diff(lengths) > 0).all()


@pytest.mark.parametrize("style", ["threaded-plug", "full-loop-at-side"])
def test_what_ends_bear_between_solved_states(style: str) -> None:
    """An end held in rotation bears a couple that does not follow from the pull."""
    made = spring(style, coils=10.0)
    near, curve = curve_of(made).between(), curve_of(made)
    low, high = 5 * curve.pressing, 7 * curve.pressing
    near.cover(low, high)
    for load in np.linspace(low, high, 7)[1:-1].tolist():
        between, solved = near.state(load), curve.solve(load)
        most = np.abs(solved.shape.wrench).max()
        assert between.shape.wrench == pytest.approx(solved.shape.wrench, abs=2e-5 * most)
