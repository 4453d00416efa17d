"""The property of states: what builds free builds at every load up to its limit.

The limit is the least load at which any place of the wire reaches its allowable.
"""

from __future__ import annotations

import math

import numpy as np

from springgeo import Spring
from springgeo.errors import SpringgeoError
from springgeo.state import State

from .trials import another
from .wild import Random

# relative; of a load found again from its length
SAME = 1e-6


def require_states(spring: Spring, rng: Random, count: int = 3) -> None:
    """Raise AssertionError where the spring has no sound state at a load up to its limit."""
    found = spring.summary()
    wound, limit = found.initial_tension.force, found.pull.travel_stop_load
    loads = [float(x) * limit for x in rng.random(count)]
    loads[: min(2, count)] = [limit, float(rng.random()) * min(wound, limit)][: min(2, count)]
    before = spring.free
    for load in sorted(loads):
        before = _sound(spring, load, before)
    if before.load > wound:
        _same_by_length(spring, before)


def _sound(spring: Spring, load: float, before: State) -> State:
    share = f"{load:.6g} N, {load / spring.summary().pull.travel_stop_load:.3f} of the limit"
    another()
    try:
        state = spring.at(load=load)
    except SpringgeoError as exc:
        raise AssertionError(f"builds free, but not at {share}: {exc}") from None
    g = state.geometry
    numbers = np.array([state.load, state.length, g.length, *state.box.ravel()])
    assert np.isfinite(numbers).all(), f"not finite at {share}"
    assert math.isclose(state.load, load, rel_tol=SAME, abs_tol=1e-12), f"{state.load} at {share}"
    low = before.length * (1 - SAME)
    assert state.length >= low, f"shorter, {state.length} after {before.length}, at {share}"
    joints = g.path.joint_angles()
    assert not len(joints) or joints.max() <= 1e-6, f"joint {joints.max():.3g} rad at {share}"
    return state


def _same_by_length(spring: Spring, state: State) -> None:
    """A working point is by load or by length, and both give one state."""
    another()
    try:
        again = spring.at(length=state.length)
    except SpringgeoError as exc:
        raise AssertionError(f"no state at the length {state.length} of a state: {exc}") from None
    off = abs(again.load - state.load) / state.load
    assert off <= 1e-4, f"{again.load} N at {state.length} mm, which {state.load} N gave"
