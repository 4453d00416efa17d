"""An end style from elsewhere that fails at work is refused in one line that names it."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from pydantic import model_validator

from springgeo import plugins
from springgeo.api import Spring
from springgeo.curve import Helix, Line, Piece
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, ByUnits, EndParameters, EndShape, EndStyle
from springgeo.errors import SpecError
from tests.springs import asked

LOOP = registry.get("full-twisted-loop")


class Untrue(Line):
    """A straight piece that says NaN of itself."""

    def _point(self, s: Any) -> Any:
        return super()._point(s) * np.nan


class Judges(EndParameters):
    """``height``: mm."""

    height: float | None = None

    @model_validator(mode="after")
    def _fails(self) -> Judges:
        if self.height is not None:
            raise RuntimeError("no judgement")
        return self


def waits(_p: Any, _end: BodyEnd) -> Any:
    threading.Event().wait(5)


def leaves(_p: Any, _end: BodyEnd) -> Any:
    sys.exit(0)


def good(_p: Any, end: BodyEnd) -> EndShape:
    return LOOP.shape(LOOP.parameters(), end)


def changed(**parts: Any) -> Any:
    return lambda p, end: replace(good(p, end), **parts)


def with_piece(segment: Any) -> Any:
    return changed(pieces=(Piece(segment, "x", "loop"),))


BAD = [
    (lambda _p, _end: 1 / 0, "ZeroDivisionError"),
    (leaves, "SystemExit"),
    (waits, "no answer within"),
    (lambda _p, _end: None, "returned NoneType"),
    (lambda _p, _end: {"pieces": ()}, "returned dict"),
    (changed(hook_length=float("nan")), "hook_length is nan"),
    (changed(hook_length="long"), "hook_length is 'long'"),
    (changed(bend_radius=float("inf")), "bend_radius is inf"),
    (changed(contact_s=1e9), "contact_s lies beyond"),
    (changed(pieces=[1, 2]), "pieces are no tuple"),
    (changed(pieces=(Piece("wire", "x", "loop"),)), "pieces are no tuple"),
    (changed(pieces=(Piece(Line(span=1.0), "x", "knee"),)), "pieces are no tuple"),
    (changed(parts=("swivel",)), "parts are no tuple"),
    (with_piece(Line(span=float("nan"))), "no finite length"),
    (with_piece(Line(span=1e30)), "200 turns and more"),
    (with_piece(Untrue(span=3.0)), "point of its 'x' is not finite"),
    (with_piece(Helix(radius=0.0, pitch=0.0, turns=1.0)), "point of its 'x' is not finite"),
]


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    """Return a function that registers a style called ``mine``."""
    monkeypatch.setattr(plugins, "CALL", 0.2)
    kept = dict(registry._known._loaded), set(registry._known._registered)

    def register(**parts: Any) -> EndStyle:
        style = EndStyle("mine", "mine", "Made up.", "", EndParameters, good)
        return registry.register(replace(style, **parts))

    yield register
    registry._known._loaded, registry._known._registered = kept


def spring(**end: Any) -> Spring:
    return Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": "1 mm"},
            "body": {"index": 8, "coils": 6},
            "ends": {"first": {"style": "mine", **end}, "second": {"style": "machine-half-loop"}},
            "service": {"loads": ["20 N"]},
        }
    )


def refused(**end: Any) -> str:
    with pytest.raises(SpecError) as caught:
        spring(**end)
    (finding,) = caught.value.findings
    assert finding.field == "ends.first.style"
    assert finding.code == "end-style-failed"
    assert "'mine'" in finding.message
    assert "\n" not in finding.message
    return finding.message


def test_a_good_one_works(mine: Any) -> None:
    mine()
    made = spring()
    assert all(c.ok for c in asked(made).checks)
    assert made.at(load=25.0).length > made.free_length


@pytest.mark.parametrize(("shape", "words"), BAD)
def test_one_that_fails_is_refused(mine: Any, shape: Any, words: str) -> None:
    mine(shape=shape)
    assert words in refused()


def test_parameters_that_fail_to_judge(mine: Any) -> None:
    mine(parameters=Judges)
    assert "RuntimeError: no judgement" in refused(height=3)


@pytest.mark.parametrize(
    "ranges",
    [
        lambda _end: 1 / 0,
        lambda _end: None,
        lambda _end: {"no_such": (0, 1)},
        lambda _end: {"height": (2.0, 1.0)},
        lambda _end: {"height": (0.0, float("nan"))},
        lambda _end: {"height": 3},
    ],
)
def test_ranges_that_fail(mine: Any, ranges: Any) -> None:
    style = mine(parameters=Judges, ranges=ranges)
    with pytest.raises(SpecError, match="end style 'mine' failed"):
        style.ranges(BodyEnd(1.0, 4.0, 1.0))


@pytest.mark.parametrize(
    "by_units",
    [
        "thread",
        (("height", 1.0, 2.0),),
        (ByUnits("height", mm=1.0, inch=float("nan")),),
        (ByUnits("height", mm=1.0, inch=[]),),  # type: ignore[arg-type]
        (ByUnits("no_such", mm=1.0, inch=2.0),),
    ],
)
def test_defaults_by_units_that_are_none(mine: Any, by_units: Any) -> None:
    with pytest.raises(SpecError, match=r"by_units|no_such"):
        mine(by_units=by_units)


def test_control_characters_of_a_title_are_not_shown(mine: Any) -> None:
    style = mine(title="red \x1b[31m", sketch="a\x07\nb")
    assert style.title == "red  [31m"
    assert style.sketch == "a \nb"


def test_an_installed_name_is_not_to_be_had() -> None:
    with pytest.raises(SpecError, match="give yours another name"):
        registry.register(replace(LOOP, title="mine"))
    with pytest.raises(SpecError, match="not an EndStyle"):
        registry.register("a string")  # type: ignore[arg-type]
