"""``springgeo tolerance`` prints, draws and refuses."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from springgeo.api import Spring
from springgeo.cli.main import run
from springgeo.plots.tolerance import costs, drawn_tolerance, histogram, limited
from springgeo.results.tolerance import Tolerance
from springgeo.text.shown import Shown
from tests.tolerance.closed import SPRING

Command = Callable[..., tuple[int, str, str]]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "spring.yaml"
    path.write_text(yaml.safe_dump(SPRING), encoding="utf-8")
    return path


@pytest.fixture
def command(
    found: Tolerance, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Command:
    """The command, its answer being the one made once."""
    monkeypatch.setattr(Spring, "tolerance", lambda *_args, **_more: found)

    def asked(*args: object) -> tuple[int, str, str]:
        capsys.readouterr()
        code = run(["tolerance", *map(str, args)])
        return code, *capsys.readouterr()

    return asked


def test_prints_what_strays_and_what_comes_of_it(command: Command, file: Path) -> None:
    code, out, err = command(file)
    assert (code, err) == (0, "")
    for text in (
        "wire diameter",
        "load 2 at",
        "inside all limits:",
        "what costs most",
        "for 95.00 %",
    ):
        assert text in out
    assert out.rstrip().splitlines()[-1].startswith("Caution:")


def test_in_inches_and_in_german(command: Command, file: Path) -> None:
    _, inch, _ = command(file, "--units", "inch")
    assert "lbf" in inch
    assert " N " not in inch
    _, german, _ = command(file, "--language", "de")
    assert "innerhalb aller Grenzen" in german
    assert "load 1" not in german


def test_json_is_the_result(command: Command, file: Path, found: Tolerance) -> None:
    _, out, _ = command(file, "--json")
    data = json.loads(out)
    assert data["schema_version"] == "springgeo-tolerance/1"
    assert data["inside"] == found.inside
    assert sum(data["spreads"][0]["histogram"]["counts"]) == found.springs - found.impossible


def test_draws_the_same_bytes(command: Command, file: Path, tmp_path: Path) -> None:
    one, other = tmp_path / "a.png", tmp_path / "b.png"
    assert command(file, "--plot", one)[0] == 0
    command(file, "--plot", other)
    assert one.read_bytes() == other.read_bytes()
    assert one.read_bytes().startswith(b"\x89PNG")


def test_the_picture_is_the_answer(found: Tolerance) -> None:
    shown = limited(found)
    assert [s.quantity for s in shown] == ["load", "load"]
    for s in shown:
        chart = histogram(s).shown(Shown())
        rules = [item.x for item in chart.items if hasattr(item, "x")]
        assert rules == pytest.approx([s.nominal, s.limit_low, s.limit_high])
    figure = drawn_tolerance(found, Shown("inch", "fr"))
    bars = figure.axes[-1]
    assert len(figure.axes) == 3
    names = [t.get_text() for t in bars.get_yticklabels()]
    worst = max(found.strays, key=lambda x: x.total)
    assert len(names) == len(found.strays)
    assert costs(found).told.endswith(f"{worst.name.replace('_', ' ')}.")


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["--hold", "wire_diameter"], "--hold: 'wire_diameter' is not NAME=VALUE"),
        (["--hold", "wire_diameter=-1 mm"], "tolerances.wire_diameter: '-1 mm' is negative"),
        (["--hold", "wire_diameter=nan"], "tolerances.wire_diameter: needs a length"),
        (["--hold", "coils=5 %"], "tolerances.coils: '5 %' is a share"),
        (["--hold", "pitch=1"], "tolerances.pitch: is not a key here"),
        (["--hold", "loads=1 mm"], "tolerances.loads: '1 mm' is a length"),
        (["--hold", "wire_diameter=1..-1"], "the lower deviation is above the upper one"),
        (["--hold", "wire_diameter=1 %..2 mm"], "one deviation is a share"),
        (["--share", "120%"], "tolerances.share: 120% must be below 1"),
        (["--share", "0"], "tolerances.share"),
        (["--springs", "3"], "springs: 3 springs: draw 1024 to 16777216"),
        (["--springs", "999999999999"], "draw 1024 to 16777216"),
        (["--seed", "-1"], "seed: -1 is not from 0"),
        (["--plot", "x.step"], "must end in .png, .svg or .pdf"),
        (
            ["--hold", "free_length=1", "--hold", "hook_length=1"],
            "free_length and hook_length both say",
        ),
    ],
)
def test_refuses_in_one_line(
    args: list[str], words: str, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["tolerance", str(file), *args]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("springgeo: ")
    assert words in err
    assert err.count("\n") == 1


EXACT = dict.fromkeys(
    ("wire_diameter", "coil_diameter", "coils", "initial_tension", "shear_modulus", "free_length"),
    0,
)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"tolerances": EXACT}, "every tolerance is 0"),
        ({"tolerances": {"loads": ["5 %", "3 %", "2 %"]}}, "3 tolerances for 2 working points"),
        (
            {"tolerances": {"adjusts": "coils"}, "service": {"loads": [5]}},
            "needs a load above the initial tension",
        ),
        (
            {"tolerances": {"adjusts": "initial-tension"}, "body": {"initial_tension": 0}},
            "no initial tension; adjust coils",
        ),
        (
            {"tolerances": {"initial_tension": 1}, "body": {"initial_tension": 0}},
            "no initial tension that could stray",
        ),
        (
            {"tolerances": {"bend_radius": 1}, "ends": {"first": "plain", "second": "plain"}},
            "no end of this spring has a bend radius",
        ),
    ],
)
def test_what_does_not_fit_the_spring_is_refused(changes: dict[str, Any], words: str) -> None:
    data = {**SPRING, **changes, "body": {**SPRING["body"], **changes.get("body", {})}}
    file = Spring.from_dict(data)
    with pytest.raises(Exception, match=words) as caught:
        file.tolerance(springs=1 << 10)
    assert type(caught.value).__name__ == "SpecError"
