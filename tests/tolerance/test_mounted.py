"""Springs that stray and are not pulled straight where they are mounted: margins and factors."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo.cli.tolerated import lines
from springgeo.results.tolerance import Tolerance
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.closed_form import Nominal
from springgeo.tolerance.truth import FATIGUE, Truth, answers_of, asked_points
from tests.mounted import ASIDE, FREE, gate
from tests.springs import asked

CYCLE = {"duty": "cyclic", "cycles": 1e6}
CASES: dict[str, tuple[dict[str, Any], dict[str, Any], tuple[str, ...]]] = {
    "held": ({"loads": [10.0, 30.0], **CYCLE}, ASIDE, ()),
    "one load": ({"loads": [25.0], **CYCLE}, ASIDE, ("hook-at-side", "english-loop")),
    "at lengths": ({"lengths": [36.0, 42.0], **CYCLE}, FREE, ()),
    "let go": ({"loads": [0.0, 25.0], **CYCLE}, FREE, ()),
    "below the tension": ({"lengths": [27.8], "loads": [20.0]}, ASIDE, ()),
}


@cache
def made(name: str) -> sg.Spring:
    service, mating, styles = CASES[name]
    return gate(service, mating, *styles)


def told(spring: sg.Spring) -> dict[tuple[str, str, str, bool], float]:
    """Return the margins and factors that the summary tells: quantity, place, way, as mounted."""
    s, found = asked(spring), {}
    book = Handbook(spring.model)
    last = s.mounted[-1]
    margins: list[tuple[str, bool, Any]] = [
        ("handbook", False, s.points[-1]),
        ("along the wire", False, s.along_the_wire.points[-1]),
        ("along the wire", True, last),
    ]
    if last.load != s.points[-1].load:
        margins.append(("handbook", True, book.point(last.load, last.length)))
    for way, there, point in margins:
        for name, value in point.margin.model_dump().items():
            if value is not None:
                found["margin", name, way, there] = value
    f = s.fatigue
    for way, there, places in (
        ("handbook", False, {} if f is None else f.handbook),
        ("along the wire", False, {} if f is None else f.along_the_wire),
        ("handbook", True, {} if f is None else f.mounted_handbook),
        ("along the wire", True, {} if f is None else f.mounted),
    ):
        for name, place in places.items():
            found[FATIGUE, name, way, there] = place.factor
    return found


@cache
def answer(name: str) -> Tolerance:
    return made(name).tolerance(springs=1 << 12)


@pytest.mark.parametrize("name", CASES)
def test_the_nominal_margins_and_factors_are_the_summarys(name: str) -> None:
    """All that the summary tells, as mounted too, and so the least of both."""
    expected = told(made(name))
    found = {
        (s.quantity, s.place or "", s.way or "", s.as_mounted): s.nominal
        for s in answer(name).spreads
        if s.place is not None
    }
    assert set(found) == set(expected)
    for key, value in expected.items():
        assert found[key] == pytest.approx(value, rel=1e-7), key
    v = asked(made(name)).verdict
    assert v is not None
    if name != "below the tension":  # there the least is at the lowest load
        least = min(x for k, x in found.items() if k[0] == "margin")
        assert least == pytest.approx(v.margin, rel=1e-7)


def test_a_spring_that_strays_has_the_margins_of_one_specified_so() -> None:
    spring = made("held")
    book = Handbook(spring.model)
    truth = Truth(book, Nominal.of(book, hooks_rule=False), answers_of(book, asked_points(book)))
    off = {"wire_diameter": 0.02, "mean_diameter": -0.1, "coils": 0.25}
    found = dict(zip(truth.answers, truth.at(off), strict=True))
    d, D = 1.2 + 0.02, 9.6 - 0.1
    turned = spring.with_(
        wire__diameter=d,
        body__mean_diameter=D,
        body__coils=12.25,
        body__initial_stress=None,
        body__initial_tension=asked(spring).initial_tension.force,
        ends__angle=None,
    )
    there = asked(turned).mounted[-1]
    allowable = book.allowable
    for a, value in found.items():
        if a.kind == "margin" and a.mounted:
            # its strength is that of the nominal wire
            expected = getattr(allowable, a.place) / getattr(there, a.place)
            assert value == pytest.approx(expected, rel=1e-4), a


@pytest.mark.parametrize("name", ["held", "at lengths"])
def test_drawn_springs_are_as_near_their_equilibrium_as_pulled_straight(name: str) -> None:
    off = {True: 0.0, False: 0.0}
    for s in answer(name).spreads:
        if s.place is not None:
            off[s.as_mounted] = max(off[s.as_mounted], s.off_percent)
    assert off[True] < 2.0
    assert np.isfinite(off[True])
    assert off[True] > 0.0


def test_the_terminal_tells_them_and_of_which_pull_the_rest_is() -> None:
    text = list(lines(answer("held")))
    rows = [x.strip() for x in text if x.strip().startswith("margin, hook bending")]
    assert [x.split("  ")[0] for x in rows] == [
        "margin, hook bending, handbook",
        "margin, hook bending, along the wire",
        "margin, hook bending, along the wire, as mounted",
    ]
    assert sum("are of the straight pull" in x for x in text) == 1
    bare = list(lines(gate({"loads": [10.0, 30.0]}).tolerance(springs=1 << 10)))
    assert not [x for x in bare if "as mounted" in x or "straight pull" in x]
