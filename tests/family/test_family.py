from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from springgeo.api import Spring
from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.family import build_family, read_family

TABLE = """\
name,wire.material,wire.diameter,body.mean_diameter,body.coils,ends.first.style,ends.second.style,service.loads
first,astm-a228,1.2 mm,9.6,18.5,full-twisted-loop,machine-half-loop,15 N; 30 N
second,,1.0 mm,8,20,machine-half-loop,machine-half-loop,
bad index,,1.0 mm,80,20,machine-half-loop,machine-half-loop,
# a remark
bad style,,1.0 mm,8,20,no-such-loop,machine-half-loop,
"""


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "table.csv"
    path.write_text(TABLE)
    return path


def manifest(folder: Path) -> dict[str, Any]:
    data: dict[str, Any] = json.loads((folder / "manifest.json").read_text())
    return data


def test_rows_become_specifications(table: Path) -> None:
    first, second, *_ = read_family(table)
    assert first.data["service"] == {"loads": ["15 N", "30 N"]}
    assert "material" not in second.data["wire"]
    assert Spring.from_dict(first.data).spec.body.coils == 18.5


def test_grid_makes_every_combination(tmp_path: Path) -> None:
    path = tmp_path / "grid.yaml"
    path.write_text(
        "base:\n  name: g\n  wire: {diameter: 1}\n  body: {index: 8, coils: 10}\n"
        "  ends: {a: {style: machine-half-loop}, b: {style: machine-half-loop}}\n"
        "vary: {wire.diameter: [0.8, 1 mm], body.coils: [10, 20, 30]}\n"
    )
    members = read_family(path, whole=False)
    assert len(members) == len({m.stem for m in members}) == 6
    assert members[5].data["wire"] == {"diameter": "1 mm"}
    assert members[0].data["body"]["coils"] == 10
    assert not build_family(members[::5], tmp_path / "out").failures


def test_units_and_mixed_styles_in_a_grid(tmp_path: Path) -> None:
    path = tmp_path / "grid.yaml"
    path.write_text(
        "base:\n  wire: {diameter: 1}\n  body: {index: 8, coils: 10}\n"
        "  ends: {a: {style: machine-half-loop}, b: {style: machine-half-loop}}\n"
        "vary:\n  wire.diameter: [0.040 in, 1 mm]\n"
        "  ends.first.style: [raised-hook, machine-half-loop]\n"
    )
    springs = [Spring.from_dict(m.data) for m in read_family(path)]
    assert [s.spec.wire.diameter for s in springs] == pytest.approx([1.016, 1.016, 1, 1])
    assert len({s.free_length for s in springs}) == 4


@pytest.mark.parametrize("apart", [";", "\t"])
def test_other_separators_and_byte_order_mark(apart: str, tmp_path: Path) -> None:
    text = TABLE.replace("15 N; 30 N", '"15 N; 30 N"').replace(",", apart)
    (tmp_path / "t.csv").write_text("\ufeff" + text, encoding="utf-8")
    assert read_family(tmp_path / "t.csv")[0].data["service"] == {"loads": ["15 N", "30 N"]}
    assert len(read_family(tmp_path / "t.csv")) == 4


def test_failures_are_listed_and_stop_nobody(
    table: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    assert run(["family", str(table), "-o", str(out), "--summary-only"]) == 1
    found = manifest(out)
    assert [m["status"] for m in found["members"]] == ["built", "built", "failed", "failed"]
    assert (found["built"], found["failed"], found["waiting"]) == (2, 2, 0)
    assert "index-too-large" in found["members"][2]["errors"][0]
    assert "no-such-loop" in capsys.readouterr().err
    assert (out / "first" / "first.json").is_file()


def test_failures_are_told_in_the_units_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "t.csv"
    table.write_text(
        "units,wire.diameter,body.mean_diameter,body.coils,ends.first,ends.second,service.lengths\n"
        "inch,0.04 in,0.32 in,20,machine-half-loop,machine-half-loop,1 in\n"
        "mm,1 mm,8 mm,20,machine-half-loop,machine-half-loop,25.4 mm\n"
    )
    command = ["family", str(table), "-o", str(tmp_path / "out"), "--summary-only"]
    assert run(command) == 1
    inch, mm = (m["errors"][0] for m in manifest(tmp_path / "out")["members"])
    assert "1 in is below the free length" in inch
    assert "25.4 mm is below the free length" in mm
    capsys.readouterr()
    assert run([*command, "--units", "inch"]) == 1
    assert "mm" not in capsys.readouterr().err


def test_only_what_is_missing_or_changed_is_built_again(table: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    members = read_family(table, whole=False)[:2]
    assert build_family(members, out).skipped == 0
    written = (out / "first" / "first.json").stat().st_mtime_ns
    assert build_family(members, out).skipped == 2
    assert (out / "first" / "first.json").stat().st_mtime_ns == written
    (out / "first" / "first.json").write_text("cut off")
    table.write_text(TABLE.replace(",20,machine", ",21,machine", 1))
    again: list[str] = []
    changed = read_family(table, whole=False)[:2]
    build_family(changed, out, say=lambda r: again.append(r.stem))
    assert sorted(again) == ["first", "second"]
    (out / "second" / "member.json").write_text("{")
    assert build_family(changed, out).skipped == 1


def test_a_killed_run_is_taken_up(table: Path, tmp_path: Path) -> None:
    out, members = tmp_path / "out", read_family(table, whole=False)[:2]

    class Kill(BaseException):
        pass

    def stop(_record: object) -> None:
        raise Kill

    with pytest.raises(Kill):
        build_family(members, out, 1, say=stop)
    assert manifest(out)["waiting"] == 2
    outcome = build_family(members, out)
    assert outcome.skipped == 1
    assert not outcome.failures
    assert manifest(out)["built"] == 2


@pytest.mark.slow
def test_parallel_is_the_same_as_one_by_one(table: Path, tmp_path: Path) -> None:
    members = read_family(table)[:2]
    one = build_family(members, tmp_path / "one", 1)
    two = build_family(members, tmp_path / "two", 2)
    assert not one.failures
    for a, b in zip(one.records, two.records, strict=True):
        assert a.facts == b.facts
        assert set(a.files) == set(b.files)
        assert any(name.endswith(".step") for name in a.files)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "first line"),
        ("a,b\n1,2\n", "first line"),
        ("wire.diameter,wire.diameter\n1,2\n", "twice"),
        ("wire.diameter\n", "no member"),
        ("wire.diameter\n1,2\n", "cells"),
        ("name,wire.diameter\nx,1\nx,2\n", "different names"),
        ("wire,wire.diameter\n1,2\n", "below a value"),
    ],
)
def test_refusals(text: str, words: str, tmp_path: Path) -> None:
    (tmp_path / "t.csv").write_text(text)
    with pytest.raises(SpecError, match=words):
        read_family(tmp_path / "t.csv")
