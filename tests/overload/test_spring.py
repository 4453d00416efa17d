"""What an overload leaves of a spring: against closed forms, and what must always hold."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from springgeo.curve import Helix
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.boundary import Support, Supports
from springgeo.overload.after import After
from springgeo.overload.disc import disc
from springgeo.overload.law import Law
from springgeo.overload.residual import coiled
from springgeo.overload.spring import Overloaded
from springgeo.overload.yielding import Yielding
from tests.equilibrium.rods import curve_of, spring, wire

LIMITS = 1300.0, 900.0
E, G = 206000.0, 79230.77


def overloaded(style: str, relieved: float = 1.0, **body: Any) -> Overloaded:
    curve = curve_of(spring(style, D=8.0, coils=6.0, **body))
    return Overloaded(curve, Law(curve.spring.E, curve.spring.G, *LIMITS), relieved)


def gaps(after: After) -> tuple[float, float]:
    a, b = after.opened
    assert a is not None
    assert b is not None
    return a, b


@pytest.fixture(scope="module")
def loops() -> Overloaded:
    return overloaded("full-twisted-loop")


@pytest.fixture(scope="module")
def drawn(loops: Overloaded) -> list[After]:
    return [loops.after_load(k * loops.first_yield) for k in (0.5, 0.99, 1.2, 1.4, 1.6)]


def test_no_set_below_first_yield_and_more_with_more(drawn: list[After]) -> None:
    for below in drawn[:2]:
        assert (below.lengthened, below.opened) == (0.0, (0.0, 0.0))
    for a, b in pairwise(drawn[1:]):
        assert b.lengthened > a.lengthened
        assert b.initial_tension <= a.initial_tension * (1 + 1e-4)
        assert all(y > x for x, y in zip(gaps(a), gaps(b), strict=True))


def test_what_the_body_gives_is_taken_from_the_initial_tension(drawn: list[After]) -> None:
    """The coils keep closed as long as they press: only the hooks lengthen the spring at first."""
    assert drawn[2].initial_tension == pytest.approx(drawn[0].initial_tension, rel=1e-4)
    assert drawn[-1].initial_tension < 0.8 * drawn[0].initial_tension
    assert sum(gaps(drawn[2])) > drawn[2].lengthened


def test_hooks_alike_open_alike(drawn: list[After]) -> None:
    first, second = gaps(drawn[-1])
    assert first == pytest.approx(second, rel=2e-2)


def test_by_load_and_by_length_agree(loops: Overloaded, drawn: list[After]) -> None:
    again = loops.after_length(drawn[3].length)
    assert again.load == pytest.approx(drawn[3].load, rel=1e-6)
    assert again.lengthened == pytest.approx(drawn[3].lengthened, rel=1e-3)


def test_the_second_pull_to_the_same_load_changes_nothing(loops: Overloaded) -> None:
    """What has been overloaded once is elastic up to there: letting down flows nowhere."""
    load = 1.4 * loops.first_yield
    up = loops.made.loaded(1.1 * loops.first_yield).loaded(load)
    down = up.unloaded(0.02 * load)
    assert np.array_equal(down.sections.plastic, up.sections.plastic)
    again = down.loaded(load)
    assert again.at is not None
    assert up.at is not None
    assert again.at.extension == pytest.approx(up.at.extension, rel=1e-6)
    assert again.sections.plastic == pytest.approx(up.sections.plastic, abs=1e-7)
    elastic = Balance(up.elastic).at_load(0.02 * load)
    assert down.at is not None
    assert down.at.extension == pytest.approx(elastic.extension, abs=1e-8)


def test_a_left_hand_spring_sets_alike(drawn: list[After], loops: Overloaded) -> None:
    left = overloaded("full-twisted-loop", hand="left")
    after = left.after_load(drawn[3].load)
    assert left.first_yield == pytest.approx(loops.first_yield, rel=1e-6)
    assert after.lengthened == pytest.approx(drawn[3].lengthened, rel=1e-4)
    assert gaps(after) == pytest.approx(gaps(drawn[3]), rel=1e-3)


def test_the_load_that_costs_a_thousandth_does(loops: Overloaded) -> None:
    found = loops.load_costing(1e-3)
    assert found is not None
    after = loops.after_load(found[0])
    assert after.lengthened == pytest.approx(1e-3 * loops.curve.free_length, rel=0.05)
    assert after.length == pytest.approx(found[1], rel=1e-4)


def test_coiling_stress_makes_hooks_give_sooner(loops: Overloaded, drawn: list[After]) -> None:
    """The inside of a bend is left in tension, where a pull at the hook pulls as well."""
    as_coiled = replace(loops, relieved=0.5).after_load(drawn[2].load)
    assert as_coiled.lengthened > 2 * drawn[2].lengthened


@pytest.mark.parametrize("coils", [8.0, 8.1])
def test_what_is_left_is_what_states_without_load_differ_by(coils: float) -> None:
    """Eyes at the side, 1.45 N wound in: from half a newton on coils roll open at one side.

    Their length is that under next to no load, not what a tangent at half a newton says (0.02 mm
    less). A part of a turn leaves 8.1 coils shorter: coils that touch keep the body as long as it
    was, and where its end turns back by what has set, the eyes beside the axis come nearer each
    other. Pulled by what was wound in, either spring is longer than before.
    """
    curve = curve_of(spring("small-eye-at-side", D=10.0, coils=coils, initial_stress=37))
    found = Overloaded(curve, Law(curve.spring.E, curve.spring.G, *LIMITS))
    load = 1.3 * found.first_yield
    now = found.made
    for at in np.linspace(found.first_yield, load, 4)[1:].tolist():
        now = now.loaded(at)
    differ = []
    for at in (0.01, curve.initial_tension):
        left, pairs = now.unloaded(at).at, curve.balance.rod.pairs
        assert left is not None
        assert pairs.gaps(left.shape.R, left.shape.p).min() > -2e-4
        differ.append(left.extension - curve.solve(at).extension)
    assert found.after_load(load).lengthened == pytest.approx(differ[0], abs=1e-3)
    assert (differ[0] < -0.004) == (coils == 8.1)
    assert differ[1] > 0.1


def test_coiling_stress_is_in_balance_and_pulls_inside() -> None:
    law, at = Law(E, G, *LIMITS), disc(1.0)
    bends = np.array([[0.0, 0.25], [0.15, -0.2], [0.0, 0.0]])
    stress = coiled(law, 1.0, bends)[:, :, 0]
    assert stress @ at.area == pytest.approx(np.zeros(3), abs=1e-9 * LIMITS[0])
    for arm in (at.y, at.z):
        assert stress @ (at.area * arm) == pytest.approx(np.zeros(3), abs=2e-9 * LIMITS[0])
    inside = bends[0, 1] * at.y > 0.23 * 0.25 * 2
    assert (stress[0][inside] > 0).any()
    assert stress[0][at.y.argmax()] > 0.4 * LIMITS[0]
    assert not stress[2].any()


@pytest.mark.parametrize("share", [1.05, 1.15])
def test_a_coil_against_an_independent_integration(share: float) -> None:
    """A helix held by arms to its axis and pulled along it: uniform twist, curvature and set.

    Love's exact helix (book IV, ch. 19) with sections of its own: a fine square grid, followed in
    2400 small steps with the elastic-plastic tangent, no return to the surface.
    """
    d, r0, lead0, turns = 1.0, 6.0, 0.06, 3.0
    law = Law.von_mises(E, G, 1000.0)
    pitch = 2 * math.pi * r0 * math.tan(lead0)
    second = math.pi * d**4 / 64
    kappa0 = math.cos(lead0) ** 2 / r0
    GJ = 2 * G * second / (1 - 3 / 16 * (kappa0 * d / 2) ** 2)
    rod = wire(
        Helix(radius=r0, pitch=pitch, turns=turns),
        np.array([GJ, E * second, E * second]),
        Support(),
        Support(),
        2.0,
    )
    R, p = rod.drawn.R, rod.drawn.p
    arms = [R[i].T @ (np.array([0.0, 0.0, p[i, 2]]) - p[i]) for i in (0, -1)]
    supports = Supports(Support("free", arms[0]), Support("free", arms[1]))
    wire_ = replace(rod.drawn, p=p - np.array([0.0, 0.0, p[0, 2]]))
    rod = replace(rod, supports=supports, drawn=wire_)
    load = share * law.torsion * math.pi * d**3 / 16 / r0
    made = Yielding.of(rod, law)
    up = made.loaded(0.6 * load).loaded(0.8 * load).loaded(load)
    down = up.unloaded(1e-3 * load)
    assert up.at is not None
    assert down.at is not None
    found = _helix_by_small_steps(law, d, r0, lead0, GJ, E * second, load)
    length = turns * 2 * math.pi * r0 / math.cos(lead0)
    elastic = Balance(rod).at_load(load)
    assert found[0] * length > 1.01 * elastic.extension
    assert up.at.extension == pytest.approx(found[0] * length, rel=4e-3)
    left = down.at.extension - down.at.load * down.at.compliance
    assert left == pytest.approx(found[1] * length, rel=2e-2)


def _helix_by_small_steps(
    law: Law, d: float, r0: float, lead0: float, GJ: float, EI: float, load: float
) -> tuple[float, float]:
    """Return sine of the lead less that at rest, under the load and after: extension per length."""
    n = 60
    grid = (np.arange(n) + 0.5) / n * d - d / 2
    x, y = (a.ravel() for a in np.meshgrid(grid, grid))
    inside = x * x + y * y < d * d / 4
    x, y = x[inside], y[inside]
    area = math.pi * d * d / 4 / len(x)
    kappa0, tau0 = math.cos(lead0) ** 2 / r0, math.sin(lead0) * math.cos(lead0) / r0
    h = 1 - kappa0 * x  # x toward the axis of the helix
    # strains of a fibre per twist, curvature, stretch, shear across
    B = np.zeros((len(x), 3, 5))
    B[:, 1, 0], B[:, 2, 0] = -y, x
    B[:, 0, 1], B[:, 0, 2], B[:, 2, 3], B[:, 1, 4] = -x, 1.0, 1.0, 1.0
    stress = np.zeros((len(x), 3))
    c, p = law.moduli, law.weight

    def tangent() -> Any:
        flows = law.share(stress) >= 1
        out = np.broadcast_to(np.diag(c), (len(x), 3, 3)).copy()
        v = c * p * stress[flows]
        size = np.einsum("fi,fi->f", v, p * stress[flows])
        out[flows] -= v[:, :, None] * v[:, None, :] / size[:, None, None]
        return out

    def stiff(D: Any) -> Any:
        return np.einsum("fia,fij,fjb->ab", B, D, B / h[:, None, None], optimize=True) * area

    elastic = np.linalg.inv(stiff(tangent()))
    kept = np.linalg.inv(elastic[:2, :2])
    plastic, before, wrench = np.zeros(2), np.zeros(5), np.zeros(5)
    steps = 2400
    for k in range(1, steps + 1):
        F = load * k / steps
        # where the helix is now: its elastic strain and what has flowed
        for _ in range(30):
            strain = np.array([wrench[0] / GJ, wrench[1] / EI]) + plastic
            tau, kappa = tau0 + strain[0], kappa0 + strain[1]
            size = math.hypot(tau, kappa)
            r, lead = kappa / size**2, math.atan2(tau, kappa)
            new = F * np.array(
                [r * math.cos(lead), -r * math.sin(lead), math.sin(lead), math.cos(lead), 0.0]
            )
            if np.abs(new - wrench).max() < 1e-10 * load:
                break
            wrench = new
        D = tangent()
        step = np.linalg.solve(stiff(D), wrench - before)
        move = np.einsum("fia,a->fi", B, step) / h[:, None]
        stress = stress + np.einsum("fij,fj->fi", D, move)
        over = np.maximum(law.share(stress), 1.0)
        stress = stress / over[:, None]
        borne = np.einsum("fia,fi->a", B, stress) * area
        flowed = step - elastic @ (borne - before)
        before = borne
        # as the rod has it: by its own stiffness
        plastic = plastic + np.linalg.solve(np.diag([GJ, EI]), kept @ flowed[:2])
    free = tau0 + plastic[0], kappa0 + plastic[1]
    at_rest = math.sin(lead0)
    return math.sin(lead) - at_rest, math.sin(math.atan2(*free)) - at_rest


def test_wire_drawn_straight_before_it_yields_keeps_no_set() -> None:
    """So strong a wire that no pull within reach makes it yield."""
    curve = curve_of(spring("full-twisted-loop", D=16.0, coils=4.0))
    strong = Overloaded(curve, Law(curve.spring.E, curve.spring.G, 1e5, 1e5))
    assert math.isinf(strong.first_yield)
    assert strong.load_costing(1e-3) is None
    assert strong.after_load(10.0).lengthened == 0.0
