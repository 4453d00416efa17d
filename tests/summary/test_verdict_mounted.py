"""The verdict where the mating section makes the pull another: the least of both, everywhere."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import springgeo as sg
from springgeo.cli import table
from springgeo.cli.main import run
from springgeo.desk.numbers import whole
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Sheet
from springgeo.files.step.spring import description
from springgeo.report import page
from springgeo.results.summary import Summary
from springgeo.summary.handbook import Handbook
from springgeo.summary.reach.states import state_findings
from springgeo.summary.wire import AlongWire
from springgeo.text.shown import PLAIN
from tests.mounted import aside
from tests.springs import asked


@cache
def failing() -> sg.Spring:
    """Holds 45 N pulled straight, and fails as mounted."""
    return aside({"loads": [10.0, 45.0]})


def least(of: sg.Spring, s: Summary, *, mounted: bool = True) -> float:
    """Return the least margin told anywhere, and the handbook's at the loads as mounted."""
    book = Handbook(of.model)
    there = [x for p in s.mounted for x in (p, book.point(p.load, p.length))] if mounted else []
    return min(
        m
        for p in (*s.points, *s.along_the_wire.points, *there)
        for m in p.margin.model_dump().values()
        if m is not None
    )


@pytest.mark.parametrize("styles", [(), ("hook-at-side", "english-loop"), ("raised-hook", "plain")])
@pytest.mark.parametrize(
    ("service", "offset"),
    [
        ({"loads": [2.0, 5.0]}, 6.0),  # below the initial tension
        ({"loads": [3.0, 45.0]}, 6.0),
        ({"loads": [10.0], "lengths": [40.0, 47.0]}, 6.0),
        ({"lengths": [44.0]}, 14.0),
    ],
)
def test_the_least_of_the_straight_pull_and_as_mounted_rules(
    styles: tuple[str, ...], service: dict[str, Any], offset: float
) -> None:
    made = aside(service, *styles, offset=offset)
    s = asked(made)
    v = s.verdict
    assert v is not None
    assert s.mounted
    assert v.margin == least(made, s)
    assert (v.outcome == "fails") == (v.margin < 1)
    codes = [f.code for f in s.findings]
    if "overstressed-as-mounted" in codes:
        assert v.outcome == "fails"
    if v.as_mounted:
        assert "as mounted" in v.words
        assert v.load == s.mounted[-1].load
        over = v.margin < 1 <= least(made, s, mounted=False)
        assert ("overstressed-as-mounted" in codes) == over
    else:
        assert "as mounted" not in v.words
        assert v.load == s.points[-1].load


def test_every_output_says_that_it_fails_as_mounted() -> None:
    made = failing()
    s = made.summary()
    v = s.verdict
    assert v is not None
    straight = sg.Spring.from_dict({**s.specification, "mating": None}).summary().verdict
    assert straight is not None
    assert straight.outcome == "holds"
    assert (v.outcome, v.as_mounted, v.way) == ("fails", True, "along the wire")
    assert "overstressed-as-mounted" in [f.code for f in s.findings]
    margin, place = f"{v.margin:.2f}", v.place.words
    heading = re.search(r'class="verdict[^>]*>(.*?)</p>', page(made), re.S)
    assert heading is not None
    assert "Fails" in heading[1]
    line = next(x for x in table.report(s) if x.startswith("verdict"))
    sheet = next(str(r) for r in data_rows(Sheet(made.model, s, "metric")) if margin in str(r))
    desk = whole(made, PLAIN)["verdict"]
    assert desk["kind"] == "bad"
    for text in (line, heading[1], description(s), made._repr_html_(), desk["words"], sheet):
        assert place in text
        assert margin in text
        assert "as mounted" in text
    assert any(x.strip().startswith("as mounted") and margin in x for x in table.report(s))


def test_the_finding_has_the_verdicts_number() -> None:
    s = failing().summary()
    assert s.verdict is not None
    (told,) = (f for f in s.findings if f.code == "overstressed-as-mounted")
    assert f"{s.verdict.margin:.2f} ({s.verdict.place.words})" in told.message


def test_a_state_as_mounted_is_weighed_as_mounted() -> None:
    made = failing()
    assert made.at(load=45.0).beyond == ()
    (state,) = made.mounted(loads=[45.0])
    (told,) = state.beyond
    assert told.code == "state-overstressed"
    assert "along the wire, as mounted" in told.message


def test_a_state_is_weighed_once_and_only_when_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of states at many lengths between others, stress is of one solved for it alone."""
    asked: list[float] = []

    def counted(wire: AlongWire, load: float, there: AlongWire | None = None) -> tuple[Any, ...]:
        asked.append(load)
        return state_findings(wire, load, there)

    monkeypatch.setattr("springgeo.state.state_findings", counted)
    made = failing()
    lengths = [made.free_length + 0.5 * i for i in range(1, 6)]
    states = [*made.states(lengths=lengths), *made.mounted(loads=[45.0]), made.at(load=45.0)]
    assert asked == []
    over = [bool(s.beyond) for _ in range(2) for s in states]
    assert over == 2 * [*(False for _ in lengths), True, False]
    assert asked == [s.load for s in states]


@pytest.mark.parametrize(("mated", "code"), [(True, 1), (False, 0)])
def test_a_sheet_of_a_spring_that_fails_as_mounted_is_no_release(
    tmp_path: Path, mated: bool, code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "gate.yaml"
    made = failing() if mated else failing().with_(mating=None)
    file.write_text(made.specification_text, encoding="utf-8")
    assert run(["check", "--strict", str(file)]) == code
    assert ("FAILS" in capsys.readouterr().out) == mated
