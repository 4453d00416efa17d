"""The sheet of a spring that is not pulled straight where it is mounted."""

from __future__ import annotations

import re
from typing import Any

import pytest

from springgeo.drawing import drawing_files
from springgeo.drawing.notes import notes
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Sheet
from springgeo.text.shown import Shown
from tests.drawing.test_sheet import overlapping
from tests.mounted import ASIDE, FREE, PIN, gate

pytest.importorskip("matplotlib")
pytest.importorskip("shapely")

CASES: dict[str, Any] = {
    "held": ({"loads": [5.0, 30.0]}, ASIDE, ()),
    "free": ({"loads": [6.0, 25.0]}, FREE, ("extended-eye", "extended-eye")),
    "far": ({"loads": [20.0]}, {**ASIDE, "offset": [45.0, 0.0]}, ()),
    "heavy": ({"loads": [10.0]}, {"first": PIN, "second": PIN, "down": "level"}, ()),
    "straight": ({"loads": [5.0, 30.0]}, None, ()),
    "in line": ({"loads": [5.0, 30.0]}, {"first": PIN, "second": PIN}, ()),
}


def of(name: str) -> Sheet:
    service, mating, styles = CASES[name]
    spring = gate(service, mating, *styles)
    return Sheet(spring.model, spring.summary(), "metric")


@pytest.mark.parametrize("name", CASES)
def test_it_is_never_to_be_drawn_beyond_the_least_stop(name: str) -> None:
    """The load that no stress as mounted, and none pulled straight, is beyond its allowable at."""
    sheet = of(name)
    pull = sheet.summary.pull
    (value,) = (r.value for r in data_rows(sheet) if r.quantity == "never drawn beyond")
    length, load = (float(x) for x in re.findall(r"([\d.]+) (?:mm|N)\b", value))
    least = min(pull.travel_stop_load, pull.mounted.load if pull.mounted else float("inf"))
    assert load == pytest.approx(least, rel=1e-3)
    stop = pull.mounted.length if pull.mounted else pull.travel_stop
    assert length == pytest.approx(stop, rel=1e-3)
    assert ("as mounted" in value) == (pull.mounted is not None)


@pytest.mark.parametrize("name", CASES)
def test_it_says_of_which_pull_its_loads_and_lengths_are(name: str) -> None:
    sheet = of(name)
    mounted = sheet.summary.pull.mounted is not None
    assert mounted == (name not in ("straight", "in line"))
    told = [x for x in notes(sheet) if "straight pull" in x]
    assert len(told) == mounted
    (words,) = (r.quantity for r in data_rows(sheet) if r.quantity.startswith("may yield"))
    assert ("pulled straight" in words) == mounted


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_its_texts_keep_clear_of_each_other(paper: Any, language: Any) -> None:
    from springgeo.drawing import sheets

    sheet = of("held")
    for page in sheets(sheet.model, sheet.summary, paper, Shown("mm", language)):
        assert overlapping(page) == []


def test_a_sheet_is_written() -> None:
    sheet = of("held")
    (text, *_) = drawing_files(sheet.model, sheet.summary, "svg", "A4", Shown("mm", "de"))
    assert text.startswith(b"<?xml")
