"""The yielding section against closed forms of plasticity and an independent integration."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.mechanics.body import K_B
from springgeo.mechanics.hook import K_A
from springgeo.overload.closed import moment_of_curvature
from springgeo.overload.fibres import Sections, solved
from springgeo.overload.law import Law, returned

from .closed import full_plastic_moment, full_plastic_torque, torque_of_twist

E, G, LIMIT, D = 206000.0, 79230.77, 1000.0, 2.0
LAW = Law.von_mises(E, G, LIMIT)
AT_YIELD = LIMIT / E / (D / 2), LAW.torsion / G / (D / 2)
# what the points on the section leave of the closed forms
FINE = 4e-3


def straight(n: int, law: Law = LAW) -> Sections:
    return Sections.made(law, D, np.zeros((n, 2)))


def strained(n: int, **turn: Any) -> Any:
    out = np.zeros((n, 3))
    for name, values in turn.items():
        out[:, {"twist": 0, "y": 1, "z": 2}[name]] = values
    return out


def test_full_plastic_moment_and_torque() -> None:
    """d³σ_y/6 and πd³τ_y/12: textbooks of plasticity."""
    bent = straight(1).at(strained(1, y=np.array([300 * AT_YIELD[0]])), np.zeros((1, 3)))
    turned = straight(1).at(strained(1, twist=np.array([300 * AT_YIELD[1]])), np.zeros((1, 3)))
    assert bent.moments[0, 1] == pytest.approx(D**3 * LIMIT / 6, rel=FINE)
    assert turned.moments[0, 0] == pytest.approx(math.pi * D**3 * LAW.torsion / 12, rel=FINE)
    assert full_plastic_moment(D, LIMIT) == pytest.approx(8000 / 6)
    assert full_plastic_torque(D, 600.0) == pytest.approx(400 * math.pi)


def test_partly_plastic_torsion_and_bending() -> None:
    """T = T_y(4/3 − (r_y/r)³/3), and the integral over the circle for bending."""
    grow = np.linspace(0.1, 12, 40)
    n = len(grow)
    turned = straight(n).at(strained(n, twist=grow * AT_YIELD[1]), np.zeros((n, 3)))
    at_yield = math.pi * (D / 2) ** 3 * LAW.torsion / 2
    wanted = at_yield * np.where(grow < 1, grow, 4 / 3 - 1 / (3 * grow**3))
    assert torque_of_twist(grow * AT_YIELD[1], D, G, LAW.torsion) == pytest.approx(wanted)
    assert turned.moments[:, 0] == pytest.approx(wanted, rel=FINE)
    for axis, sign in (("y", 1), ("z", -1)):
        bent = straight(n).at(strained(n, **{axis: sign * grow * AT_YIELD[0]}), np.zeros((n, 3)))
        wanted = moment_of_curvature(grow * AT_YIELD[0], D, E, LIMIT)
        assert sign * bent.moments[:, 1 if axis == "y" else 2] == pytest.approx(wanted, rel=FINE)


@pytest.mark.parametrize("hardening", [0.0, 0.05])
@pytest.mark.parametrize("grow", [0.5, 1.2, 3.0, 40.0, 3000.0])
def test_bending_in_closed_form_is_the_integral(grow: float, hardening: float) -> None:
    """The stress summed over strips of the circle: an independent integration."""
    kappa, r = grow * AT_YIELD[0], D / 2
    y = (np.arange(400000) + 0.5) / 400000 * r
    stress = np.minimum(E * kappa * y, LIMIT + hardening * np.maximum(E * kappa * y - LIMIT, 0))
    moment = 4 * np.sum(stress * y * np.sqrt(r * r - y * y)) * r / 400000
    closed = moment_of_curvature(kappa, D, E, LIMIT, hardening)
    assert float(closed) == pytest.approx(moment, rel=1e-6)


@pytest.mark.parametrize("ratio", [0.2, 0.5, 1.0, 2.0, 4.0])
def test_tension_and_torsion_together(ratio: float) -> None:
    """Pull and twist grow in proportion until all flows: the thin rings' stress in closed form.

    With strain rates in a fixed ratio a fibre ends where the flow is normal to the surface:
    σ : m τ = ε′ : γ′, so σ = σ_y/√(1 + (γ′/ε′)²/m). Prager and Hodge, Theory of Perfectly
    Plastic Solids, the bar under tension and torsion (from memory).
    """
    stretch = np.array([60 * LIMIT / E])
    twist = ratio * stretch / (D / 2)
    r = (np.arange(20000) + 0.5) / 20000 * D / 2
    gamma = twist * r / stretch
    sigma = LIMIT / np.sqrt(1 + gamma**2 / 3)
    tau = sigma * gamma / 3
    area = 2 * math.pi * r * D / 40000
    wanted = np.sum(sigma * area), np.sum(tau * r * area)
    sections = straight(1)
    for part in np.linspace(0, 1, 41)[1:]:
        strain = np.array([[part * stretch[0], 0, 0, part * twist[0], 0, 0]])
        borne = sections.bear(strain)
        sections = sections.kept(borne)
    assert borne.wrench[0, 0] == pytest.approx(wanted[0], rel=2e-3)
    assert borne.wrench[0, 3] == pytest.approx(wanted[1], rel=2e-3)


def test_elastic_peak_of_a_bent_section_is_the_handbooks() -> None:
    """Bergsträsser's and the hook's factors (Shigley 10-5, 10-34 with 10-35)."""
    C = np.array([4.0, 6.0, 8.0, 12.0])
    bend = np.column_stack([np.zeros(4), 2 / (C * D)])
    sections = Sections.made(LAW, D, bend)
    K, R = sections.elastic, C * D / 2
    coil = np.zeros((4, 6))
    coil[:, 2], coil[:, 3] = 1.0, R
    turn = solved(K, coil[..., None])[:, 3:, 0]
    shear = sections.share(turn, coil[:, :3]) * LAW.torsion
    assert shear == pytest.approx(K_B(C) * 8 * 2 * R / (math.pi * D**3), rel=7e-3)
    loop = np.zeros((4, 6))
    loop[:, 0], loop[:, 5] = 1.0, -R
    turn = solved(K, loop[..., None])[:, 3:, 0]
    axial = sections.share(turn, loop[:, :3]) * LIMIT
    book = K_A(C) * 16 * 2 * R / (math.pi * D**3) + 4 / (math.pi * D**2)
    assert axial == pytest.approx(book, rel=1e-3)


@settings(max_examples=40, deadline=None)
@given(
    st.tuples(*[st.floats(-8, 8)] * 3),
    st.floats(0.0, 0.2),
    st.floats(0.5, 2.0),
    st.floats(0, 20000),
)
def test_any_strain_ends_on_or_in_the_surface(
    turn: tuple[float, float, float], curvature: float, ratio: float, hardening: float
) -> None:
    """The tangent is the derivative, the stress admissible, and taking all back leaves a set."""
    law = Law(E, G, LIMIT, ratio * LIMIT / 2, hardening)
    made = Sections.made(law, D, np.array([[0.0, curvature]]))
    turns = np.array([turn]) * np.array([AT_YIELD[1], AT_YIELD[0], AT_YIELD[0]])
    at = made.bear(np.concatenate([np.zeros((1, 3)), turns], axis=1))
    assert at.stress is not None
    back = hardening / law.weight * at.plastic
    assert (law.share(at.stress - back) <= 1 + 1e-9).all()
    step = 1e-7 * np.array([1.0, -0.6, 0.3, 0.8, 0.5, -0.7])
    more = made.bear(at.strain + step)
    less = made.bear(at.strain - step)
    wanted = (more.wrench - less.wrench)[0] / 2
    scale = np.abs(made.elastic[0] @ step).max()
    assert at.tangent[0] @ step == pytest.approx(wanted, abs=2e-2 * scale)
    assert np.allclose(at.tangent, at.tangent.transpose(0, 2, 1), atol=1e-9 * at.tangent.max())


def test_unloading_is_elastic_and_leaves_the_closed_set() -> None:
    """Springback of a bent bar: κ − M/(E I) stays, and no fibre flows back on the way."""
    grow = np.array([1.5, 3.0, 8.0])
    bent = straight(3).at(strained(3, y=grow * AT_YIELD[0]), np.zeros((3, 3)))
    kept = straight(3).kept(bent)
    second = math.pi * D**4 / 64
    moment = moment_of_curvature(grow * AT_YIELD[0], D, E, LIMIT)
    left = grow * AT_YIELD[0] - moment / (E * second)
    free = kept.at(strained(3, y=left), np.zeros((3, 3)))
    assert free.moments[:, 1] == pytest.approx(np.zeros(3), abs=FINE * float(moment.max()))
    assert free.plastic == pytest.approx(bent.plastic, abs=1e-12)
    # and the other way: bent back as far as it went, it does flow
    against = kept.at(strained(3, y=-grow * AT_YIELD[0]), np.zeros((3, 3)))
    assert (np.abs(against.plastic - bent.plastic).max(axis=(1, 2)) > 1e-4).all()


def test_forces_are_borne_beside_moments() -> None:
    force = np.array([[150.0, -80.0, 60.0]] * 2)
    at = straight(2).at(strained(2, twist=np.array([0.5, 2]) * AT_YIELD[1]), force)
    assert at.wrench[:, :3] == pytest.approx(force, rel=1e-6)


def test_hardening_carries_on_beyond_the_limit() -> None:
    """One fibre pulled: σ = σ_y + H ε_p."""
    law = Law.von_mises(E, G, LIMIT, 10000.0)
    found = returned(law, np.array([[0.02, 0.0, 0.0]]), np.zeros((1, 3)))
    slope = E * 10000 / (E + 10000)
    assert found.stress[0, 0] == pytest.approx(LIMIT + slope * (0.02 - LIMIT / E))
    sheared = returned(law, np.array([[0.0, 0.05, 0.0]]), np.zeros((1, 3)))
    slope = G * 10000 / (3 * G + 10000)
    tau = LAW.torsion + slope * (0.05 - LAW.torsion / G)
    assert sheared.stress[0, 1] == pytest.approx(tau)
