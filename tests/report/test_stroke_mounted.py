"""The view of a spring that is not pulled straight where it is mounted."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo.chart import Line, Marks
from springgeo.plots.load_length import chart as load_chart
from springgeo.report import page
from springgeo.report.stroke import stroke_of
from springgeo.report.view import view_data
from springgeo.state import State
from tests.mounted import ASIDE, FREE, PIN, gate

CASES: dict[str, tuple[dict[str, Any], dict[str, Any], tuple[str, ...]]] = {
    "held": ({"loads": [5.0, 30.0]}, {**ASIDE, "offset": [8.0, 0.0]}, ()),
    "free": ({"loads": [0.0, 6.0, 25.0]}, {**FREE, "over_travel": 3.0}, ()),
    "at lengths": ({"lengths": [35.0, 44.0]}, ASIDE, ("hook-at-side", "english-loop")),
    "heavy": ({"loads": [10.0]}, {"first": PIN, "second": PIN, "down": "level"}, ()),
    "no loads": ({}, ASIDE, ()),
}


def made(name: str) -> sg.Spring:
    service, mating, styles = CASES[name]
    return gate(service, mating, *styles)


@pytest.mark.parametrize("name", CASES)
def test_the_states_are_those_of_the_fit_and_the_summary(name: str) -> None:
    spring = made(name)
    s, stroke = spring.summary(), stroke_of(spring)
    assert stroke.as_mounted
    told = [(p.load, p.length) for p in s.mounted]
    named = [(x.load, x.length) for x in stroke.stops if x.name.startswith("F")]
    assert named == told
    loads = [x.load for x in stroke.states]
    assert loads == sorted(loads)
    assert stroke.load == loads[-1]
    for stop in stroke.stops[1:]:
        (state,) = (x for x in stroke.states if x.load == stop.load)
        assert state.length == pytest.approx(stop.length, rel=1e-8)
    fitted = {x.stop: x for x in spring.fit(states=1).states}
    if "max" in fitted:
        assert max(x.length for x in stroke.stops if x.name.startswith("F")) == pytest.approx(
            fitted["max"].length, rel=1e-9
        )
    if "over-travel" in fitted:
        assert stroke.states[-1].length == pytest.approx(fitted["over-travel"].length, rel=1e-9)
        assert stroke.states[-1].load == pytest.approx(fitted["over-travel"].load, rel=1e-6)
    if not s.points:
        assert s.pull.mounted is not None
        assert stroke.load == pytest.approx(s.pull.mounted.load, rel=1e-9)


@pytest.mark.parametrize("name", CASES)
def test_the_shape_stands_between_its_pins(name: str) -> None:
    """The second end's contact stands aside of the first as the mating section says."""
    spring = made(name)
    offset = np.array(CASES[name][1].get("offset", (0.0, 0.0)))
    apart = float(np.linalg.norm(np.subtract(*spring.model.geometry.pull_points)))
    for state in stroke_of(spring).states[1:]:
        ends = ends_of(state)
        # a drawn end may be off by some thousandths of the wire
        assert ends[:2] == pytest.approx(offset, abs=3e-3)
        moved = state.length - spring.free_length
        assert ends[2] - apart == pytest.approx(moved, abs=1e-5)


def ends_of(state: State) -> np.ndarray[Any, Any]:
    """Return where the second point of pull stands from the first, mm."""
    (turn_a, move_a), (turn_b, move_b) = state.equilibrium.motion_a, state.equilibrium.motion_b
    a, b = state.wire.book.model.geometry.pull_points
    return (turn_b @ b + move_b) - (turn_a @ a + move_a)


@pytest.mark.parametrize("name", CASES)
def test_the_paint_says_what_the_verdict_says(name: str) -> None:
    """The greatest share of an allowable at the highest load is one over the told margin."""
    spring = made(name)
    s, stroke = spring.summary(), stroke_of(spring)
    wire = stroke.states[-1].wire
    data: Any = view_data(spring, stroke)
    use = np.frombuffer(_bytes(data["use"]["judged"]), "<f4").reshape(len(stroke.states), -1)
    for p in s.mounted:
        i = [x.load for x in stroke.states].index(p.load)
        margins = [m for m in p.margin.model_dump().values() if m is not None]
        assert use[i].max() == pytest.approx(1 / min(margins), rel=2e-3)
    if not s.points:
        assert use[-1].max() == pytest.approx(1.0, rel=2e-3)
        assert wire.stressed(stroke.load).von_mises > 0


def _bytes(text: str) -> bytes:
    import base64

    return base64.b64decode(text)


@pytest.mark.parametrize("name", CASES)
def test_the_curve_that_the_slider_reads_goes_through_the_told_points(name: str) -> None:
    spring = made(name)
    s, stroke = spring.summary(), stroke_of(spring)
    curve = stroke.curve(s)
    for p in s.mounted:
        assert [p.load, pytest.approx(p.length, rel=1e-8)] in [x[:2] for x in curve]
    assert curve[0][:2] == [0.0, spring.free_length]
    assert s.contact is not None
    assert curve[-1][3] <= s.contact.coils


def test_the_diagram_has_what_is_mounted_within_its_axes() -> None:
    spring = made("free")
    s, stroke = spring.summary(), stroke_of(spring)
    there = [(x.length, x.load) for x in stroke.states]
    drawn = load_chart(s, [(x.length, x.load) for x in stroke.stops], there)
    marks = {i.role: i.points for i in drawn.items if isinstance(i, Marks)}
    assert list(marks["mounted"]) == [(p.length, p.load) for p in s.mounted]
    lines = {i.role: i.points for i in drawn.items if isinstance(i, Line)}
    assert list(lines["mounted-line"]) == there
    assert all(drawn.x.low < x < drawn.x.high and y < drawn.y.high for x, y in there)


def test_the_page_says_what_it_shows() -> None:
    """Text, stress and heading are of the way that the verdict tells."""
    spring = made("held")
    s, text = spring.summary(), page(spring)
    assert s.verdict is not None
    assert s.verdict.as_mounted
    assert "Shown as it is mounted" in text
    stress = text[text.index('id="stress"') :]
    stress = stress[: stress.index("</p>")]
    assert "As it is mounted." in stress
    assert 'data-path="mounted.1.von_mises"' in stress
    top = text[text.index("<dl") : text.index("</header>")]
    assert 'data-path="mounted.1.length"' in top
    pull = text[text.index('id="pull"') :]
    assert pull.index("pull.mounted.length") < pull.index("pull.travel_stop")
    bare = page(gate({"loads": [5.0, 30.0]}))
    assert "Shown as it is mounted" not in bare
    assert "ulled straight" not in bare
