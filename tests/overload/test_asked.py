"""The question as people ask it: the façade and the command."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import springgeo as sg
from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.results.facts import CAUTIONS
from springgeo.results.overload import Overload
from tests.springs import asked as asked_of

SPEC = {
    "name": "pulled",
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 6},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
}


@pytest.fixture(scope="module")
def spring() -> sg.Spring:
    return sg.Spring.from_dict(SPEC)


@pytest.fixture(scope="module")
def found(spring: sg.Spring) -> Overload:
    return spring.overload(load=72.0)


def test_from_and_to(found: Overload, spring: sg.Spring) -> None:
    least, greatest = found.least, found.greatest
    assert (least.tension, greatest.tension) < (least.torsion * 2, greatest.torsion * 2)
    assert least.tension < greatest.tension
    assert least.set is not None
    assert greatest.set is not None
    assert least.set.lengthened > greatest.set.lengthened > 0
    assert least.set.free_length == pytest.approx(spring.free_length + least.set.lengthened)
    assert least.costs is not None
    assert greatest.costs is not None
    assert least.costs.load < greatest.costs.load
    # a thousandth is lost above where the stress along the wire first reaches the limit
    first = asked_of(spring).pull.first_yield
    assert first is not None
    assert first.load < least.costs.load < 2 * first.load
    assert found.known == "from memory"
    assert found.cautions == CAUTIONS


def test_frozen_and_the_same_again(found: Overload, spring: sg.Spring) -> None:
    with pytest.raises(ValueError, match="frozen"):
        found.load = 1.0  # type: ignore[misc]
    assert spring.overload(load=72.0).json_text() == found.json_text()


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"load": 60.0, "length": 50.0}, "either a load or a length"),
        ({"load": float("nan")}, "not a finite number"),
        ({"load": -1.0}, "not a finite number"),
        ({"length": 1.0}, "would be loose"),
        ({"length": 1e6}, "drawn straight"),
        ({"load": 1e9}, "yields through"),
        ({"relieved": 1.5}, "not from 0 to 1"),
        ({"hardening": 1.0}, "below 1"),
    ],
)
def test_refuses_in_one_line(spring: sg.Spring, values: dict[str, float], words: str) -> None:
    with pytest.raises(SpecError, match=words) as caught:
        spring.overload(**values)
    assert len(caught.value.findings) == 1
    assert "\n" not in str(caught.value)


def test_without_a_published_limit_there_is_no_number() -> None:
    wire = {"material": "en-10270-1-sm", "diameter": 1.2}
    spring = sg.Spring.from_dict({**SPEC, "wire": wire})
    if spring.model.material.elastic_limits is None:
        with pytest.raises(SpecError, match="no elastic limit"):
            spring.overload(load=50.0)
    else:
        assert spring.overload(load=1.0).least.set is not None


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("asked") / "spring.yaml"
    file.write_text(json.dumps(SPEC), encoding="utf-8")
    return str(file)


def test_the_command(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["overload", file, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["load"] is None
    assert answer["least"]["set"] is None
    load = 1.02 * answer["least"]["costs"]["load"]
    assert run(["overload", file, "--load", f"{load} N"]) == 0
    text = capsys.readouterr().out
    assert "free length gained" in text
    assert "Estimates" in text
    assert all(c in text for c in CAUTIONS)


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["--load", "5 mm"], "--load"),
        (["--length", "5 N"], "--length"),
        (["--load", "1e6 N"], "yields through"),
        (["--relieved", "2"], "--relieved"),
    ],
)
def test_the_command_refuses(
    file: str, capsys: pytest.CaptureFixture[str], args: list[str], words: str
) -> None:
    assert run(["overload", file, *args]) == 2
    shown = capsys.readouterr()
    assert words in shown.err
    assert shown.out == ""
    assert shown.err.count("\n") == 1


def test_the_summary_answers_where_the_specification_asks(
    spring: sg.Spring,
    found: Overload,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert asked_of(spring).overload is None
    file = tmp_path / "spring.yaml"
    file.write_text(json.dumps({**SPEC, "service": {"overload": "72 N"}}), encoding="utf-8")
    asked = sg.Spring.from_file(file)
    assert spring.with_(service__overload="72 N").spec.service == asked.spec.service
    summary = asked.summary()
    assert summary.overload is not None
    # the curves were asked different things before: the same to rounding
    assert alike(summary.overload.model_dump(), found.model_dump())
    # the command's spring is this one, with its summary
    monkeypatch.setattr(sg.Spring, "from_file", lambda _path: asked)
    assert run(["check", str(file)]) == 0
    assert "free length gained" in capsys.readouterr().out


def alike(a: Any, b: Any) -> bool:
    if isinstance(a, dict):
        return a.keys() == b.keys() and all(alike(a[k], b[k]) for k in a)
    if isinstance(a, list | tuple):
        return len(a) == len(b) and all(map(alike, a, b))
    return a == (pytest.approx(b, rel=1e-6, abs=1e-12) if isinstance(b, float) else b)
