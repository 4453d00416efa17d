"""What a user says of a bench's columns and units; and that nothing is thrown away unsaid."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import yaml

from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.measure import measure, read_readings
from springgeo.measure.bench import read_bench
from springgeo.measure.bench_head import Said
from springgeo.measure.said import said_in_words

from .test_bench_run import FREE, RATE, TENSION, X, Y, readings
from .test_measure import bench

INCH, POUND = 25.4, 4.4482216152605


def rows(*columns: np.ndarray, apart: str = ";", comma: bool = True) -> str:
    text = "\n".join(apart.join(f"{v:.6f}" for v in row) for row in zip(*columns, strict=True))
    return text.replace(".", ",") if comma else text


GERMAN = "Prüfung 7;;\nZeit [s];Weg [mm];Kraft [N]\n" + rows(X, FREE + X, Y)
INCHES = "length,load\n" + rows((FREE + X) / INCH, Y / POUND, apart=",", comma=False)
BARE = rows(X, Y, apart="\t", comma=False)


@pytest.mark.parametrize(
    ("text", "columns", "units"),
    [
        (GERMAN, "length=Weg,load=Kraft", None),
        (GERMAN, "length=weg [MM],load=kraft [n]", None),
        (GERMAN, "length=2,load=3", None),
        (GERMAN, "load=3, length=2", "mm,N"),
        (INCHES, None, "in,lbf"),
        (INCHES, "length=length,load=load", "in,lbf"),
        (BARE, "extension=1,load=2", "mm,N"),
    ],
)
def test_columns_and_units_by_name(
    tmp_path: Path, text: str, columns: str | None, units: str | None
) -> None:
    (tmp_path / "run.csv").write_text(text, encoding="utf-8")
    said = said_in_words(columns, units)
    found = measure(read_readings(readings(tmp_path), tmp_path / "run.csv", said))
    assert found.line.rate.low <= RATE <= found.line.rate.high
    assert found.line.tension.low <= TENSION <= found.line.tension.high
    assert "bench-unit-assumed" not in [f.code for f in found.findings]


def test_the_file_of_readings_may_say_it(tmp_path: Path) -> None:
    (tmp_path / "run.csv").write_text(GERMAN, encoding="utf-8")
    data = {k: v for k, v in bench().items() if k != "pulls"}
    columns = {"length": "Weg", "load": "Kraft"}
    data["bench"] = {"file": "run.csv", "columns": columns, "units": ["mm", "N"]}
    (tmp_path / "readings.yaml").write_text(yaml.safe_dump(data))
    found = measure(read_readings(tmp_path / "readings.yaml"))
    assert found.line.rate.low <= RATE <= found.line.rate.high


def test_a_run_in_other_units_is_not_thrown_away(tmp_path: Path) -> None:
    """Inches taken as mm all lie below the free length; the pulls alone must not answer."""
    (tmp_path / "run.csv").write_text(INCHES)
    path = tmp_path / "readings.yaml"
    path.write_text(yaml.safe_dump(bench()))
    with pytest.raises(SpecError, match=r"none of its readings lies above .* --units") as caught:
        measure(read_readings(path, tmp_path / "run.csv"))
    assert caught.value.findings[0].field == "run.csv"


def test_it_is_said_what_was_read_and_what_was_not(tmp_path: Path) -> None:
    text = "time;length;load;note\n" + "\n".join(
        f"{i};{FREE + x:.5f};{y:.5f};ok" for i, (x, y) in enumerate(zip(X, Y, strict=True))
    )
    (tmp_path / "run.csv").write_text(text + "\n-;-;-;\nend\n")
    found = measure(read_readings(readings(tmp_path), tmp_path / "run.csv"))
    told = {f.code: f.message for f in found.findings}
    assert "length from 'length', load from 'load', 400 rows" in told["bench-read"]
    assert "not used: time, note" in told["bench-read"]
    assert "taken as mm and N" in told["bench-unit-assumed"]
    assert told["bench-rows-left-out"].startswith("2 of 402 rows")
    used = int(found.line.used.sum())
    assert told["readings-below-knee"].startswith(f"{len(found.line.used) - used} of ")


def test_the_refusal_shows_the_head_and_the_option(tmp_path: Path) -> None:
    (tmp_path / "run.csv").write_text(GERMAN, encoding="utf-8")
    with pytest.raises(SpecError) as caught:
        read_bench(tmp_path / "run.csv")
    text = caught.value.findings[0].message
    assert "'Zeit [s]', 'Weg [mm]', 'Kraft [N]'" in text
    assert "--columns length=NAME,load=NAME" in text


@pytest.mark.parametrize(
    ("columns", "units", "words"),
    [
        ("Weg,Kraft", None, "names no columns"),
        ("length=Weg", None, "needs one of length and extension, and load"),
        ("length=Weg,extension=Weg,load=Kraft", None, "needs one of"),
        ("weight=Weg,load=Kraft", None, "needs length or extension"),
        ("length=,load=Kraft", None, "needs one of"),
        ("length=Wegg,load=Kraft", None, "no line has the columns length=Wegg"),
        ("length=Weg,load=Weg", None, "no line has the columns"),
        ("length=2,load=9", None, "no line has the columns"),
        ("length=0,load=2", None, "no line has the columns"),
        ("length=" + "9" * 5000 + ",load=2", None, "no line has the columns"),
        (None, "mm", "needs a unit of length and one of force"),
        (None, "mm,N,s", "needs a unit of length and one of force"),
        ("length=Weg,load=Kraft", "N,mm", "'N' in 'Weg [mm]' is not a unit of length"),
    ],
)
def test_what_cannot_be_meant(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    columns: str | None,
    units: str | None,
    words: str,
) -> None:
    (tmp_path / "run.csv").write_text(GERMAN, encoding="utf-8")
    options = [x for k, v in (("--columns", columns), ("--units", units)) if v for x in (k, v)]
    command = ["measure", str(readings(tmp_path)), "--bench", str(tmp_path / "run.csv"), *options]
    assert run(command) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert words in line


def test_columns_of_no_run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["measure", str(readings(tmp_path)), "--units", "mm,N"]) == 2
    assert "name it with --bench" in capsys.readouterr().err


@pytest.mark.parametrize(
    "bench_key", [5, ["run.csv"], {"columns": {}}, {"file": "run.csv", "colums": 1}, {"file": 3}]
)
def test_a_bench_that_is_no_file(tmp_path: Path, bench_key: object) -> None:
    path = tmp_path / "readings.yaml"
    path.write_text(yaml.safe_dump(bench() | {"bench": bench_key}))
    with pytest.raises(SpecError, match="bad-bench"):
        read_readings(path)


def test_units_in_the_head_stand_unless_overruled(tmp_path: Path) -> None:
    (tmp_path / "run.csv").write_text("length (in),load [lbf]\n2,3\n")
    assert read_bench(tmp_path / "run.csv").length == pytest.approx([2 * INCH])
    said = Said(units=("cm", "kgf"))
    assert read_bench(tmp_path / "run.csv", said).length == pytest.approx([20])
    assert read_bench(tmp_path / "run.csv", said).load == pytest.approx([3 * 9.80665])


def test_a_quotation_mark_left_open(tmp_path: Path) -> None:
    for name, head in (("run.csv", "length,load\n"), ("k.csv", "coils,18\nname,")):
        (tmp_path / name).write_text(head + '"' + "1,2\n" * 50_000)
    with pytest.raises(SpecError, match="close its quotation mark"):
        read_bench(tmp_path / "run.csv")
    with pytest.raises(SpecError, match="close its quotation mark"):
        read_readings(tmp_path / "k.csv")
