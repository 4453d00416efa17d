"""A helix under an axial pull: Love, Mathematical Theory of Elasticity, book IV, ch. 19."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from springgeo.curve import Frame, Helix
from springgeo.equilibrium.boundary import Support
from springgeo.equilibrium.newton import Problem
from springgeo.equilibrium.posed import Shape
from tests.equilibrium.rods import wire
from tests.verification import Of

GJ, EI = 7.8e3, 10.1e3


def love(radius: float, lead: float, pulled: float, held: bool) -> tuple[float, float]:
    """Return pull, N, and radius, mm, of a helix drawn to the lead angle ``pulled``.

    The section's moment is GJ Δτ along the tangent and EI Δκ along the binormal; a pull F on the
    axis and a couple T about it put F r round the axis and T along it.
    """
    kappa, tau = math.cos(lead) ** 2 / radius, math.sin(lead) * math.cos(lead) / radius
    s, c = math.sin(pulled), math.cos(pulled)
    if held:  # the angle about the axis stays, so r goes with the cosine
        r = radius * c / math.cos(lead)
    else:  # no couple
        r = (GJ * s * s * c + EI * c**3) / (GJ * tau * s + EI * kappa * c)
    twist, bend = GJ * (s * c / r - tau), EI * (c * c / r - kappa)
    return (twist * c - bend * s) / r, r


@pytest.mark.parametrize("index", [3.0, 8.0, 25.0])
@pytest.mark.parametrize("degrees", [2.0, 15.0, 45.0])
@pytest.mark.parametrize("held", [False, True])
@pytest.mark.parametrize("more", [0.01, 0.1, 0.25])
def test_helix_on_its_axis(index: float, degrees: float, held: bool, more: float) -> None:
    radius, lead, turns = index / 2, math.radians(degrees), 3.0
    helix = Helix(radius=radius, pitch=2 * math.pi * radius * math.tan(lead), turns=turns)
    force, drawn_in = love(radius, lead, lead + more, held)
    ends = []
    for s in (0.0, helix.length):
        at = np.array([s])
        t, n = helix.tangent(at)[0], helix.normal(at)[0]
        R = np.column_stack([t, n, np.cross(t, n)])
        # a rigid grip that reaches to the axis of the helix as pulled
        ends.append(Support("kept" if held else "free", R.T @ (-drawn_in * n)))
    rod = wire(helix, np.array([GJ, EI, EI]), *ends)
    problem = Problem(rod)
    shape = problem.at_rest()
    high = Of(problem.height(shape), "length at rest, mm")
    assert high == pytest.approx(helix.pitch * turns, rel=1e-9)
    for share in (0.25, 0.5, 0.75, 1.0):
        shape, _ = problem.at_load(share * force, shape)
    risen = problem.height(shape) - helix.pitch * turns
    risen = Of(
        risen, f"extension, mm, to a lead angle of {degrees + math.degrees(more):.4g} degrees"
    )
    assert risen == pytest.approx(helix.length * (math.sin(lead + more) - math.sin(lead)), rel=1e-6)
    across = np.hypot(*(shape.p - shape.p.mean(axis=0))[:, :2].T)
    assert across.max() < 2 * drawn_in + 1e-6


def test_free_and_held_differ() -> None:
    """The check above would not see a support that is ignored if both answers were the same."""
    lead = math.radians(15)
    free, held = (love(4.0, lead, lead + 0.25, kept)[0] for kept in (False, True))
    assert abs(free / held - 1) > 1e-3
    unpulled = brentq(lambda a: love(4.0, lead, a, False)[0], lead - 0.1, lead + 0.1)
    assert Of(unpulled, "lead angle without a pull, rad") == pytest.approx(lead)


def _hung(turns: float, angle: float, load: float, aside: float) -> Shape:
    """Return a helix of 8 mm drawn on grips to points ``aside`` mm off its axis, turned about z."""
    turned = np.array(
        [[math.cos(angle), -math.sin(angle), 0], [math.sin(angle), math.cos(angle), 0], [0, 0, 1]]
    )
    helix = Helix(frame=Frame(np.zeros(3), turned), radius=4.0, pitch=1.5, turns=turns)
    ends = []
    for s in (0.0, helix.length):
        at = np.array([s])
        t, n = helix.tangent(at)[0], helix.normal(at)[0]
        R = np.column_stack([t, n, np.cross(t, n)])
        point = -helix.point(at)[0] * [1, 1, 0] + aside * turned[:, 0]
        ends.append(Support("free", R.T @ point))
    problem = Problem(wire(helix, np.array([GJ, EI, EI]), *ends))
    shape = problem.at_rest()
    for share in (0.3, 1.0):
        shape, _ = problem.at_load(share * load, shape)
    return shape


@settings(max_examples=5, deadline=None)
@given(st.integers(2, 5), st.floats(1.0, 40.0))
def test_two_in_series_are_one_of_both(turns: int, load: float) -> None:
    """On its axis a helix is the same everywhere: twice the turns open twice as far."""
    risen = []
    for n in (turns, 2 * turns):
        radius = _drawn_in(load)
        helix = Helix(radius=4.0, pitch=1.5, turns=n)
        ends = []
        for s in (0.0, helix.length):
            at = np.array([s])
            t, m = helix.tangent(at)[0], helix.normal(at)[0]
            ends.append(Support("free", np.column_stack([t, m, np.cross(t, m)]).T @ (-radius * m)))
        problem = Problem(wire(helix, np.array([GJ, EI, EI]), *ends))
        risen.append(problem.height(problem.at_load(load, problem.at_rest())[0]) - 1.5 * n)
    assert Of(risen[1], "extension of twice the turns, mm") == pytest.approx(2 * risen[0], rel=1e-7)


def _drawn_in(load: float) -> float:
    """Return the radius of that helix under a pull, mm, free to turn: by Love's equations."""
    lead = math.atan2(1.5, 8 * math.pi)
    pulled = brentq(lambda a: love(4.0, lead, a, False)[0] - load, lead, 1.2)
    return love(4.0, lead, float(pulled), False)[1]


@settings(max_examples=5, deadline=None)
@given(st.floats(-3.0, 3.0), st.floats(1.0, 30.0), st.floats(0.0, 2.0))
def test_turned_about_the_pull_it_is_the_same_spring(
    angle: float, load: float, aside: float
) -> None:
    """Space has no preferred direction across the pull."""
    one, other = (_hung(2.3, a, load, aside) for a in (0.0, angle))
    c, s = math.cos(angle), math.sin(angle)
    turned = one.p @ np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    assert np.abs(other.p - turned).max() < 1e-7
