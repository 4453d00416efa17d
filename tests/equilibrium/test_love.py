"""A helix under an axial pull: Love, Mathematical Theory of Elasticity, book IV, ch. 19."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from springgeo.curve import Helix
from springgeo.equilibrium.boundary import Support
from springgeo.equilibrium.newton import Problem
from tests.equilibrium.rods import wire

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
    assert problem.height(shape) == pytest.approx(helix.pitch * turns, rel=1e-9)
    for share in (0.25, 0.5, 0.75, 1.0):
        shape, _ = problem.at_load(share * force, shape)
    risen = problem.height(shape) - helix.pitch * turns
    assert risen == pytest.approx(helix.length * (math.sin(lead + more) - math.sin(lead)), rel=1e-6)
    across = np.hypot(*(shape.p - shape.p.mean(axis=0))[:, :2].T)
    assert across.max() < 2 * drawn_in + 1e-6


def test_free_and_held_differ() -> None:
    """The check above would not see a support that is ignored if both answers were the same."""
    lead = math.radians(15)
    free, held = (love(4.0, lead, lead + 0.25, kept)[0] for kept in (False, True))
    assert abs(free / held - 1) > 1e-3
    assert brentq(lambda a: love(4.0, lead, a, False)[0], lead - 0.1, lead + 0.1) == pytest.approx(
        lead
    )
