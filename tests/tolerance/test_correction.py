"""The correction against springs made one by one, and what a maker adjusts for a lot of wire."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from springgeo.api import Spring
from springgeo.results.tolerance import Tolerance
from springgeo.specification.tolerances import Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.closed_form import Nominal
from springgeo.tolerance.corrected import Corrected
from springgeo.tolerance.inputs import inputs
from springgeo.tolerance.truth import Answer, Truth, asked_points
from tests.tolerance.closed import SPRING, uncorrected

ADJUSTED = ("initial-tension", "coils", "mean-diameter", "free-length")


def test_springs_drawn_are_their_equilibrium(found: Tolerance) -> None:
    assert found.correction.asked == 13
    assert found.correction.checked == 6
    for x in found.spreads:
        assert x.off_percent < (1.0 if x.quantity == "margin" else 0.05)


def test_a_spring_off_everywhere_is_the_spring_made_so(spring: Spring, book: Handbook) -> None:
    points = asked_points(book)
    answers = tuple(Answer("load", p) for p in points)
    nominal = Nominal.of(book, hooks_rule=False)
    off = {
        "wire_diameter": 0.008,
        "mean_diameter": -0.15,
        "coils": 0.04,
        "initial_tension": 0.6,
        "shear_modulus": -1000.0,
    }
    strays = tuple(x for x in inputs(book, Tolerances()) if x.name in off)
    model = Corrected.of(Truth(book, nominal, answers), strays, "none", lambda _name: None)
    values, wrong = model.values({k: np.asarray(v) for k, v in off.items()}, answers)
    assert not wrong
    G, E = (float(x) for x in (book.material.shear_modulus, book.material.elastic_modulus))
    made = spring.with_(
        wire__diameter=1.208,
        wire__shear_modulus=G - 1000,
        wire__elastic_modulus=E * (G - 1000) / G,
        body__mean_diameter=9.45,
        body__coils=5.04,
        body__initial_tension=7.6,
    )
    # its hooks make good what the body lacks: the free length is the nominal one
    for p, value in zip(points, values, strict=True):
        true = made.load_curve.load(p.length + made.free_length - nominal.L_0)
        assert float(value) == pytest.approx(true, rel=2e-4)
        straight = float(
            nominal.load(nominal.made({k: np.asarray(v) for k, v in off.items()}), p.length)
        )
        assert abs(straight / true - 1) > 5 * abs(float(value) / true - 1)


@pytest.mark.parametrize("what", ADJUSTED)
def test_the_lots_wire_is_made_good(book: Handbook, what: str) -> None:
    lot = tuple(
        x for x in inputs(book, Tolerances()) if x.name in ("wire_diameter", "shear_modulus")
    )
    every, answers = uncorrected(book, lot, adjusts=what)
    drawn = every.drawn(1 << 10, answers)
    assert drawn.values[answers[-1]] == pytest.approx(30.0, rel=1e-9)
    assert (
        np.ptp(
            replace(every, model=replace(every.model, adjusts="none"))
            .drawn(1 << 10, answers)
            .values[answers[-1]]
        )
        > 1
    )
    spread = np.ptp(drawn.values[answers[0]])
    # what sets the rate right sets both loads right
    assert (spread < 1e-9) == (what in ("coils", "mean-diameter"))


def test_the_outside_diameter_rules(book: Handbook) -> None:
    off = {"wire_diameter": np.asarray(0.01), "outer_diameter": np.asarray(0.1)}
    made = replace(Nominal.of(book, hooks_rule=False), rules="outer").made(off)
    assert float(made.D) == pytest.approx(9.6 + 0.1 - 0.01)


def test_with_hooks_given_the_free_length_follows_from_the_body(book: Handbook) -> None:
    nominal = Nominal.of(book, hooks_rule=True)
    off = {"coils": 0.1, "hook_length_first": 0.2, "hook_length_second": -0.05}
    made = nominal.made({k: np.asarray(v) for k, v in off.items()})
    assert float(made.L_0) == pytest.approx(nominal.L_0 + 0.1 * nominal.pitch + 0.15)


@pytest.mark.parametrize("ends", ["machine-half-loop", "full-loop-at-side"])
def test_margins_at_given_lengths_are_those_at_the_load_there(ends: str) -> None:
    """The load there is corrected once: a margin with it on its own was corrected twice."""
    both = {"first": ends, "second": ends}
    spring = Spring.from_dict(SPRING | {"ends": both, "service": {"lengths": [45, 52]}})
    tight = {"coil_diameter": 0.002, "free_length": 0.01, "adjusts": "none"}
    found = spring.tolerance(
        {**tight, "wire_diameter": 0.0005, "coils": 0.001, "initial_tension": "0.1 %"},
        springs=1 << 10,
    )
    margins = [x for x in found.spreads if x.quantity == "margin"]
    assert len(margins) == 6
    for x in margins:
        assert x.off_percent < 0.01
        assert x.mean == pytest.approx(x.nominal, rel=1e-4)


def test_an_open_body_keeps_the_pitch_or_the_gap_that_was_given() -> None:
    body = {"mean_diameter": 9.6, "coils": 5}
    lengths = []
    for how in ({"pitch": 3.0}, {"gap": 1.8}):
        data = SPRING | {"body": body | how}
        book = Handbook(Spring.from_dict(data).model)
        nominal = Nominal.of(book, hooks_rule=True)
        lengths.append(float(nominal.made({"wire_diameter": np.asarray(0.01)}).L_0) - nominal.L_0)
    # the pitch stays, and the end faces lie further out by the wire; or each coil by as much
    assert lengths == pytest.approx([0.01, 6 * 0.01], rel=1e-6)
