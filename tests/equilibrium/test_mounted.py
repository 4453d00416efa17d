"""Pulls that are not straight, each against a closed form of its own.

A close-coiled spring bends and shears like a beam whose flexural and shear stiffness are
``B = L/(n π R (1/EI + 1/GJ))`` and ``S = L EI/(n π R³)``: Timoshenko and Gere, Theory of Elastic
Stability, on the buckling of helical springs; under an axial force as Haringx (Philips Research
Reports 3, 1948) has it, shear across the turned section; from memory, each derived again below.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo.curve.frame import Array
from springgeo.curve.motion import apply, rotation
from springgeo.ends.protocol import Turning
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.mounted.mounting import GRAVITY, Mounting, wire_weight
from springgeo.equilibrium.mounted.states import Mounted
from springgeo.equilibrium.solved import Solved
from springgeo.errors import SpecError
from tests.equilibrium.rods import curve_of, spring
from tests.springs import asked

E, G, D_WIRE, D = 206000.0, 79230.77, 1.0, 8.0
RADIUS, SECOND = D / 2, math.pi * D_WIRE**4 / 64
DENSITY = 7.85e-6
STEEL = wire_weight(D_WIRE, DENSITY, np.array([-1.0, 0.0, 0.0]))


@pytest.fixture(scope="module")
def plugged() -> LoadCurve:
    """Fourteen working coils between two plugs, a little open."""
    return curve_of(spring("threaded-plug", D, 14, pitch=1.05))


def _beam(length: float, coils: float) -> tuple[float, float]:
    bend = coils * math.pi * RADIUS * (1 / (E * SECOND) + 1 / (2 * G * SECOND))
    return length / bend, length * E * SECOND / (coils * math.pi * RADIUS**3)


def _lateral(pull: float, length: float, coils: float) -> float:
    """Return side force over offset, N/mm, of a beam held at both ends and pulled along.

    With θ the turn of a section and V the side force: ``B θ″ = F (1 − F/S) θ − V (1 − F/S)``,
    ``y′ = θ + (V − F θ)/S``, θ = 0 at both ends.
    """
    B, S = _beam(length, coils)
    q = np.sqrt(complex(pull * (1 - pull / S) / B))
    lean = (1 - pull / S) / pull * (length - 2 / q * np.tanh(q * length / 2))
    return float(1 / np.real(length / S + lean))


@pytest.mark.parametrize("load", [1.0, 5.0, 15.0])
@pytest.mark.parametrize("along", [0, 1])
def test_side_force_of_pins_out_of_line(plugged: LoadCurve, load: float, along: int) -> None:
    """Both ends held: Haringx's beam, to 0.3 % (a coil's wire is not quite level)."""
    shape = plugged.solve(load).shape
    length = float(shape.p[-1, 2] - shape.p[0, 2])
    aside = np.zeros(3)
    aside[along] = 0.2
    found = []
    for sign in (1.0, -1.0):
        place = Mounted(plugged, Mounting(offset=sign * aside))
        found.append(sign * place.pins(place.solve(load))[1].force[along])
    wanted = _lateral(load, length, 14)
    assert np.mean(found) / 0.2 == pytest.approx(wanted, rel=3e-3)


def test_a_turned_pin_twists_as_a_torsion_spring(plugged: LoadCurve) -> None:
    """EN 13906-3: M = E d⁴ φ/(64 D n) about the spring's axis, to 0.3 %."""
    found = []
    for phi in (0.2, -0.2):
        turn = rotation(np.array([[0.0, 0.0, phi]]))[0]
        place = Mounted(plugged, Mounting(turned_b=turn))
        a, b = place.pins(place.solve(1.0))
        found.append(math.copysign(1.0, phi) * b.moment[2])
        assert a.moment[2] == pytest.approx(-b.moment[2], abs=0.03 * abs(b.moment[2]))
    assert np.mean(found) == pytest.approx(E * D_WIRE**4 * 0.2 / (64 * D * 14), rel=3e-3)


def test_free_ends_follow_pins_out_of_line() -> None:
    """Free to turn, the spring lies along the way between its pins: that of a straight pull."""
    curve = curve_of(spring("hook-at-side", D, 10))
    place = Mounted(curve, Mounting(offset=np.array([3.0, -2.0, 0.0])))
    at = place.solve(20.0)
    side = float(np.hypot(*place.pins(at)[1].force[:2]))
    upright = place.balance.rod.supports.aside
    assert upright is not None
    rod, straight = curve.balance.rod, curve.solve(math.hypot(20.0, side)).shape
    along = float(straight.p[-1, 2] - straight.p[0, 2])
    assert side / 20.0 == pytest.approx(
        float(np.hypot(*upright)) / float(at.shape.p[-1, 2] - at.shape.p[0, 2]), rel=1e-9
    )
    chord = float(np.linalg.norm(at.shape.p[-1] - at.shape.p[0]))
    assert chord == pytest.approx(along, abs=1e-7)
    assert np.abs(place.pins(at)[0].moment).max() < 1e-6
    assert rod.weight is None


def _sag(pull: float, body: float, hook: float, coils: float, weight: float) -> float:
    """Return the sag of a heavy beam hung at both ends on weightless stiff hooks, mm.

    ``θ = V/F + A sinh(q (x − L/2))``, ``V = w (L/2 − x)``; the hook leans as the body's end does.
    """
    B, S = _beam(body, coils)
    q = np.sqrt(complex(pull * (1 - pull / S) / B))
    first, x = weight * body / 2, q * body / 2
    A = B * weight / pull / (B * q * np.cosh(x) + hook * pull * np.sinh(x))
    hung = hook * (first / pull - A * np.sinh(x)) + weight * body**2 / (8 * pull)
    return float(np.real(hung - (1 - pull / S) * A * (np.cosh(x) - 1) / q))


@pytest.mark.parametrize("load", [1.0, 5.0])
def test_sag_of_a_level_spring(load: float) -> None:
    """Its own weight, 60 coils, to 0.5 %: half way from a beam to the shallow catenary."""
    curve = curve_of(spring("machine-half-loop", D, 60.5, pitch=1.05))
    g, place = curve.spring.geometry, Mounted(curve, Mounting(weight=STEEL))
    shape, straight = place.solve(load).shape, curve.solve(load).shape
    s = place.balance.rod.drawn.s
    middle = int(np.argmin(np.abs(s - (s[0] + s[-1]) / 2)))
    turn = slice(middle - 4, middle + 4)
    sag = float((straight.p - shape.p)[turn, 0].mean())
    hook = (g.length - g.body_length) / 2 + D_WIRE
    body = float(shape.p[-1, 2] - shape.p[0, 2]) - 2 * hook
    weight = DENSITY * GRAVITY * math.pi * D_WIRE**2 / 4 * 60.5 * math.hypot(math.pi * D, 1.05)
    wanted = _sag(load, body, hook, 60.5, weight / body)
    assert sag == pytest.approx(wanted, rel=5e-3)


CASES: list[tuple[str, tuple[Turning, Turning], dict[str, float]]] = [
    ("machine-half-loop", ("free", "free"), {}),
    ("machine-half-loop", ("kept", "held"), {"pitch": 1.05}),
    ("hook-at-side", ("swivelling", "kept"), {"pitch": 1.05}),
    ("threaded-plug", ("held", "held"), {"pitch": 1.05}),
    ("coned-swivel-eye", ("free", "held"), {"pitch": 1.05}),
]


@pytest.mark.parametrize(("style", "turning", "body"), CASES)
def test_pins_balance_the_weight(
    style: str, turning: tuple[Turning, Turning], body: dict[str, float]
) -> None:
    """Forces and moments of both pins and the wire's whole weight add up to nothing."""
    curve = curve_of(spring(style, D, 8.0, **body), turning)
    mounting = Mounting(
        np.array([1.0, 0.7, 0.0]),
        rotation(np.array([[0.02, 0.03, 0.1]]))[0],
        rotation(np.array([[-0.03, 0.02, -0.1]]))[0],
        STEEL,
    )
    place = Mounted(curve, mounting)
    for load in (3.0, 14.0):
        at = place.solve(load)
        a, b = place.pins(at)
        weight = place.balance.rod.weight
        assert weight is not None
        assert b.force[2] == pytest.approx(load, abs=1e-9)
        assert np.abs(a.force + b.force + weight.whole).max() < 1e-9
        first, last = _points(place, at)
        where = at.shape.p + apply(at.shape.R, weight.arm)
        moment = a.moment + b.moment + np.cross(last - first, b.force)
        moment = moment + np.cross(where - first, weight.force).sum(axis=0)
        assert np.abs(moment).max() < 1e-9
        assert (last - first)[:2] == pytest.approx(place.balance.rod.supports.aside, abs=1e-9)
        assert place.solve_length(curve.free_length + at.extension).load == pytest.approx(
            load, rel=1e-5
        )


def _points(place: Mounted, at: Solved) -> tuple[Array, Array]:
    ends, shape = place.balance.rod.supports, at.shape
    return ends.a.point(shape.R[0], shape.p[0]), ends.b.point(shape.R[-1], shape.p[-1])


def test_the_whole_wire_weighs() -> None:
    made = spring("machine-half-loop", D, 8.0)
    place = Mounted(curve_of(made), Mounting(weight=STEEL))
    weight = place.balance.rod.weight
    assert weight is not None
    assert -weight.whole[0] == pytest.approx(asked(made).geometry.mass * GRAVITY, rel=1e-12)


@pytest.mark.parametrize(
    ("turning", "left"),
    [("free", (0, 1, 2)), ("kept", (0, 1)), ("swivelling", (2,)), ("held", ())],
)
def test_what_a_holding_leaves_free_bears_no_moment(
    turning: Turning, left: tuple[int, ...]
) -> None:
    """And what it holds does: B's pin stands turned about every axis."""
    curve = curve_of(spring("full-twisted-loop", D, 8.0, pitch=1.05), ("held", turning))
    turn = rotation(np.array([[0.1, 0.08, 0.2]]))[0]
    place = Mounted(curve, Mounting(np.array([0.5, 0.0, 0.0]), turned_b=turn))
    at = place.solve(10.0)
    moment = place.pins(at)[1].moment
    support, rod = place.balance.rod.supports.b, place.balance.rod
    axes, back = support.facing(at.shape.R[-1], rod.drawn.R[-1])
    own = axes.T @ moment
    assert np.abs(own[list(left)]).max(initial=0.0) < 1e-7
    held = [k for k in range(3) if k not in left]
    assert (np.abs(own[held]) > 0.1).all()
    assert np.abs(back[held]).max(initial=0.0) < 1e-7


def test_states_drawn_together_are_those_drawn_one_by_one() -> None:
    made = spring("machine-half-loop", coils=12.0)
    free = made.free_length
    lengths = [free * x for x in (1.4, 1.05, 1.2, 1.3)]
    mounting = Mounting(offset=np.array([2.0, 0.5, 0.0]))
    place = Mounted(curve_of(made), mounting)
    states = place.states(lengths=lengths)
    for length, state in zip(sorted(lengths), states, strict=True):
        (alone,) = Mounted(curve_of(made), mounting).states(lengths=[length])
        assert state.length == pytest.approx(length, abs=2e-9)
        assert state.load == pytest.approx(alone.load, rel=1e-8)
        s = np.linspace(0.0, state.path.length, 501)
        assert np.abs(state.path.point(s) - alone.path.point(s)).max() < 2e-8 * length
    assert [s.load for s in place.states(loads=[9.0, 7.0])] == [7.0, 9.0]


def test_pins_beyond_the_wire_are_refused() -> None:
    curve = curve_of(spring("machine-half-loop", D, 4.0))
    place = Mounted(curve, Mounting(offset=np.array([1e6, 0.0, 0.0])))
    with pytest.raises(SpecError) as told:
        place.solve(5.0)
    assert [f.code for f in told.value.findings] == ["pins-too-far"]


def test_ends_that_swivel_bear_no_moment_about_their_axes() -> None:
    """Side loops between skew swivels turn to where none is left, by load and by length alike.

    A swivel bears no moment about its own axis: statics.
    """
    curve = curve_of(spring("full-loop-at-side", 13.0, 6.0), ("swivelling", "swivelling"))
    turned = [rotation(np.array([v]))[0] for v in ([-0.13, -0.02, 0.0], [-0.17, -0.01, 0.0])]
    mounting = Mounting(np.array([8.7, 1.4, 0.0]), *turned)
    place = Mounted(curve, mounting)
    for load in (1.0, 10.0):
        at = place.solve(load)
        a, b = place.pins(at)
        ends = place.balance.rod.supports
        for pin, end in ((a, ends.a), (b, ends.b)):
            assert abs(pin.moment @ end.turned[:, 2]) < 1e-9 * load * 13.0
        again = place.solve_length(curve.free_length + at.extension)
        assert again.load == pytest.approx(load, rel=1e-8)


# a short spring on two swivels out of line; above 11 N no place without a moment is near
SWIVELLING: dict[str, Any] = {
    "wire": {"material": "en-10270-1-sm", "diameter": 1.0},
    "body": {"mean_diameter": 4.489, "coils": 2.4, "hand": "left", "initial_stress": 165},
    "ends": {
        "first": {"style": "reduced-full-loop", "end_diameter": 3.45, "bend_radius": 1.044},
        "second": {"style": "reduced-full-loop", "end_diameter": 3.141, "bend_radius": 1.118},
    },
    "mating": {
        "offset": [0.181, 0.4585],
        "first": {
            "pin": {"diameter": 1.35, "length": 9, "direction": [0.2123, 1.0, 0.3579]},
            "holding": "swivelling",
        },
        "second": {
            "pin": {"diameter": 1.35, "length": 9, "direction": [-0.0963, 1.0, 0.1223]},
            "holding": "swivelling",
        },
    },
}


def test_swivels_that_find_no_place_stand_where_least_is_left() -> None:
    """The place without moment is lost at 11 N: beyond, length goes on to rise with the load.

    Its two such places meet there, where the moment is greatest along the turn: by continuity the
    spring stands there, what moment is left borne by friction. Turned back to where it was hooked
    in it would be shorter at 11.3 N than at 10.4.
    """
    made = sg.Spring.from_dict(SWIVELLING)
    place = made.along_the_wire.book.place
    assert place is not None
    loads = [10.4, 11.0, 11.3, 15.6]
    found = [place.solve(load) for load in loads]
    rates = np.diff(loads) / np.diff([at.extension for at in found])
    # neither shorter nor by a leap
    assert 5.0 < rates.min() < rates.max() < 30.0
    axis = place.balance.rod.supports.a.turned[:, 2]
    for load, at in zip(loads, found, strict=True):
        left = abs(place.pins(at)[0].moment @ axis)
        assert left < (1e-7 if load < 10.9 else 0.06 * load)
    again = place.solve_length(place.curve.free_length + found[-1].extension)
    assert again.load == pytest.approx(loads[-1], rel=1e-8)
