"""The self-test for authors of end styles finds every way of not being what one says."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo.curve import Line
from springgeo.ends import registry
from springgeo.ends.measured import measured_shape
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle
from springgeo.testing import check_end_style

LOOP = registry.get("machine-half-loop")
PLUG = registry.get("threaded-plug")
COILS = registry.get("reduced-half-loop")


@pytest.mark.parametrize("style", registry.styles().values(), ids=lambda s: s.name)
def test_every_style_passes(style: EndStyle) -> None:
    check_end_style(style, springs=6)


def test_solids_are_built() -> None:
    check_end_style(LOOP, springs=3, solid=True)


def wrong(style: EndStyle, change: Callable[[EndShape, BodyEnd], EndShape]) -> EndStyle:
    """Return a style that changes what it says after it has drawn."""
    return replace(style, name="wrong", shape=lambda p, end: change(style.shape(p, end), end))


def off(name: str, by: float) -> EndStyle:
    """Return a style that states one thing wrong, by so many wire diameters."""

    def change(s: EndShape, end: BodyEnd) -> EndShape:
        return replace(s, **{name: getattr(s, name) + by * end.wire_diameter})

    return wrong(LOOP, change)


def _moved(s: EndShape, end: BodyEnd) -> EndShape:
    up = np.array([0.0, 0.0, 1e-6 * end.wire_diameter])
    return replace(
        s, pieces=tuple(replace(p, segment=p.segment.moved(np.eye(3), up)) for p in s.pieces)
    )


def _through(s: EndShape, end: BodyEnd) -> EndShape:
    """Go on from the tip straight down into the coils."""
    last = s.pieces[-1].segment
    at = np.array([last.length])
    tip, t = last.point(at)[0], last.tangent(at)[0]
    more = Line.between(tip, tip + t * 3 * end.coil_radius)
    drawn = (*s.pieces, replace(s.pieces[-1], segment=more, label="tail", role="straight"))
    return measured_shape(drawn, end)


WRONG: list[tuple[EndStyle, str]] = [
    (off("hook_length", 1e-4), "hook_length is stated as"),
    (off("hook_length", 1e-4), "longer than hook_length"),
    (off("loop_radius", 1e-4), "loop_radius is stated as"),
    (off("bend_radius", 1e-4), "bend_radius is stated as"),
    (off("opening", 1e-4), "opening is stated as"),
    (off("offset", 1e-4), "offset is stated as"),
    (off("contact_s", 1e-2), "not the apex of the loop"),
    (off("azimuth", 1e-3), "not the direction of the loop's plane"),
    (wrong(LOOP, _moved), "do not meet, or do not start at P"),
    (wrong(LOOP, _through), "of other wire"),
    (wrong(LOOP, lambda s, _end: replace(s, hook_length=math.nan)), "hook_length is nan"),
    (wrong(COILS, lambda s, _end: replace(s, working_coils=0.0)), "coils, stated are 0"),
    (wrong(COILS, lambda s, _end: replace(s, active_coils=0.0)), "not say what they are worth"),
    (
        replace(LOOP, ranges=lambda e: {"bend_radius": (0.0, e.coil_radius)}),
        "bend-radius-too-small",
    ),
    (replace(LOOP, ranges=lambda _e: {"no_such": (0.0, 1.0)}), "no mapping of its parameters"),
    (
        replace(PLUG, by_units=(sg.ByUnits("thread", mm="UNC", inch="M"),)),
        "built otherwise than without a word",
    ),
    (replace(LOOP, title=3), "its title is not a text"),  # type: ignore[arg-type]
]


@pytest.mark.parametrize(("style", "words"), WRONG, ids=lambda v: getattr(v, "name", v))
def test_what_is_wrong_is_said(style: EndStyle, words: str) -> None:
    with pytest.raises(AssertionError) as caught:
        check_end_style(style, springs=18)
    assert words in str(caught.value)


def test_asked_for_and_not_given() -> None:
    style = replace(LOOP, name="deaf", shape=lambda _p, end: LOOP.shape(LOOP.parameters(), end))
    with pytest.raises(AssertionError, match="was asked for"):
        check_end_style(style)


NAMES = ["machine-half-loop", "full-twisted-loop", "hook-at-side", "raised-hook"]


@pytest.mark.parametrize("name", NAMES)
def test_a_drawn_hook_is_measured_as_the_style_states_it(name: str) -> None:
    style, end = registry.get(name), BodyEnd(1.0, 4.0, 1.003)
    stated = style.shape(style.parameters(), end)
    found = measured_shape(stated.pieces, end)
    for what in ("hook_length", "contact_s", "loop_radius", "bend_radius", "opening", "offset"):
        assert getattr(found, what) == pytest.approx(getattr(stated, what), rel=1e-9, abs=1e-9)
    assert found.azimuth is not None
    assert stated.azimuth is not None
    assert math.sin(found.azimuth - stated.azimuth) == pytest.approx(0.0, abs=1e-9)


def test_wire_that_makes_no_hook_is_refused() -> None:
    up = Line.between(np.array([4.0, 0, 0]), np.array([4.0, 0, 5.0]))
    with pytest.raises(ValueError, match="makes no hook"):
        measured_shape([sg.Piece(up, "up", "loop")], BodyEnd(1.0, 4.0, 1.003))


@pytest.mark.usefixtures("forgotten")
def test_a_function_becomes_a_style() -> None:
    @sg.end_style(title="straight copy")
    def copy_of_loop(end: sg.BodyEnd, opening: float | None = None, count: int = 1) -> EndShape:
        """A loop with an ``opening``, mm, drawn ``count`` times."""
        return LOOP.shape(LOOP.parameters(opening=opening), end)

    assert isinstance(copy_of_loop, sg.EndStyle)
    assert copy_of_loop.name == "copy-of-loop"
    assert copy_of_loop.title == "straight copy"
    assert copy_of_loop.summary.startswith("A loop with an")
    assert set(copy_of_loop.parameters.model_fields) == {"opening", "count"}
    sg.register(copy_of_loop)
    assert "copy-of-loop" in registry.names()
    made = spring(opening="0.1 in")
    assert made.model.geometry.first.opening == pytest.approx(2.54)
    with pytest.raises(sg.SpecError, match="did you mean 'opening'"):
        spring(openign=3)
    sg.register(replace(copy_of_loop, title="another"))  # a notebook's cell is run again
    assert registry.get("copy-of-loop").title == "another"


def spring(**end: Any) -> sg.Spring:
    """Return a spring with the registered style at end A."""
    return sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": "1 mm"},
            "body": {"index": 8, "coils": 6},
            "ends": {"first": {"style": "copy-of-loop", **end}, "second": {"style": "plain"}},
        }
    )


def test_an_argument_without_default_is_refused() -> None:
    with pytest.raises(TypeError, match="'reach' needs an annotation and a default"):

        @sg.end_style()
        def hook(end: sg.BodyEnd, reach: float) -> EndShape:
            raise AssertionError
