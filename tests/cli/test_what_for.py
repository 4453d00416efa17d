"""The wrong file, no file, or a target that cannot be one: a line that says what to do instead."""

from __future__ import annotations

from pathlib import Path

import pytest

from springgeo.cli.commands.lists.new import STARTER
from springgeo.cli.starters import FAMILY, JOB, READINGS

from .conftest import GOOD, Command
from .refused import assert_refused

OF_A_SPRING = ["check", "draw", "report", "stress", "overload", "fit", "prototype", "assembly"]


@pytest.mark.parametrize("command", OF_A_SPRING)
def test_without_a_spring_there_is_no_answer(
    springgeo: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    monkeypatch.chdir(tmp_path)
    result = springgeo(command)
    assert_refused(result)
    assert "name a specification (springgeo new spring.yaml writes one" in result.err
    assert "--preset: " in result.err
    assert list(tmp_path.iterdir()) == []


TEXTS = {"spring": STARTER, "job": JOB, "readings": READINGS, "family": FAMILY}
TEXTS["material"] = "id: mine\ntensile: null\nshear_modulus: 3\n"
TEXTS["summary"] = '{"schema_version": "springgeo-summary/1", "specification": {}}'
READERS = {
    "spring": "springgeo check or build",
    "job": "springgeo size",
    "readings": "springgeo measure",
    "family": "springgeo family",
    "material": "wire.material",
    "summary": "springgeo inspect",
}


@pytest.mark.parametrize("kind", TEXTS)
@pytest.mark.parametrize(
    ("command", "own"),
    [
        *((c, "spring") for c in ["build", *OF_A_SPRING]),
        ("size", "job"),
        ("measure", "readings"),
        ("family", "family"),
    ],
)
def test_the_wrong_kind_of_file(
    springgeo: Command, tmp_path: Path, command: str, own: str, kind: str
) -> None:
    if kind == own:
        return
    file = tmp_path / "given.yaml"
    file.write_text(TEXTS[kind], encoding="utf-8")
    result = springgeo(command, file)
    assert_refused(result)
    assert len(result.err.splitlines()) == 1
    assert f"it is for {READERS[kind]}" in result.err or READERS[kind] in result.err


@pytest.mark.parametrize(
    ("command", "name", "words"),
    [
        ("check", "spring.step", "it is a built file, not a specification; springgeo inspect"),
        ("size", "spring.STL", "it is a built file"),
        ("build", "table.csv", "springgeo family reads a table of springs"),
        ("size", "table.parquet", "it is a table, not a sizing job"),
        ("measure", "table.step", "springgeo inspect"),
        ("family", "spring.glb", "springgeo inspect"),
        ("inspect", "spring.yaml", "springgeo check reads a specification"),
    ],
)
def test_files_told_by_their_names(
    springgeo: Command, tmp_path: Path, command: str, name: str, words: str
) -> None:
    (tmp_path / name).write_text("x")
    result = springgeo(command, tmp_path / name)
    assert_refused(result)
    assert words in result.err


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["build", "SPEC", "-o", "x.step"], "looks like a file, but the files go into a folder"),
        (["build", "SPEC", "-o", ""], "it is empty; name a folder"),
        (["build", "SPEC", "-o", "SPEC"], "is a file, and a folder is needed"),
        (["build", "SPEC", "-o", "a\x1bb"], "holds the character \\x1b"),
        (["size", "SPEC", "-o", "out.json"], "looks like a file"),
        (["family", "SPEC", "-o", " "], "it is empty"),
        (["draw", "SPEC", "-o", ""], "it is empty; name a file"),
        (["draw", "SPEC", "-o", "."], "is a folder; name a file in it, ending in .pdf"),
        (["draw", "SPEC", "-o", "sheet.step"], "must end in .pdf, .svg, .dxf or .png"),
        (["report", "SPEC", "-o", "page.pdf"], "must end in .html or .htm"),
        (["report", "SPEC", "-o", "FOLDER"], "is a folder"),
        (["stress", "SPEC", "-o", "FOLDER"], "is a folder"),
        (["stress", "SPEC", "-o", "x.step"], "must end in .csv or .txt"),
        (["assembly", "SPEC", "-o", "FOLDER"], "is a folder"),
        (["prototype", "SPEC", "-o", "plate.stl"], "must end in .3mf"),
        (["measure", "SPEC", "-o", "x.csv"], "must end in .yaml or .yml"),
        (["fit", "SPEC", "--plot", "FOLDER"], "is a folder"),
        (["new", ""], "it is empty"),
        (["new", "FOLDER", "--force"], "is a folder"),
        (["new", "spring.step"], "must end in .yaml or .yml"),
        (["draw", "SPEC", "-o", "x" * 5000 + ".pdf"], "File name too long"),
    ],
    ids=lambda v: " ".join(v)[:30],
)
def test_targets(
    springgeo: Command,
    spec_file: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    args: list[str],
    words: str,
) -> None:
    folder = tmp_path / "here.pdf"
    folder.mkdir()
    monkeypatch.chdir(folder)
    put = {"SPEC": str(spec_file), "FOLDER": str(folder)}
    result = springgeo(*(put.get(a, a) for a in args))
    assert_refused(result)
    assert words in result.err
    assert list(folder.iterdir()) == []
    assert spec_file.read_text(encoding="utf-8") == GOOD


def test_a_folder_with_an_ending_that_is_there_is_a_folder(
    springgeo: Command, spec_file: Path, tmp_path: Path
) -> None:
    (tmp_path / "out.step").mkdir()
    out = tmp_path / "out.step"
    assert springgeo("build", spec_file, "-o", out, "--format", "json").code == 0


def test_formats_in_one_word(springgeo: Command, spec_file: Path, tmp_path: Path) -> None:
    for number, words in enumerate((["stl,ply"], ["STL, .ply"], ["stl", "ply"])):
        out = tmp_path / str(number)
        options = [x for w in words for x in ("--format", w)]
        assert springgeo("build", spec_file, "-o", out, *options).code == 0
        names = sorted(p.name for p in out.iterdir())
        assert names == ["test-spring.json", "test-spring.ply", "test-spring.stl"]
    result = springgeo("build", spec_file, "-o", tmp_path / "x", "--format", "stl,stpe")
    assert_refused(result)
    assert "did you mean 'step'?" in result.err


def test_states_of_the_summary_alone(springgeo: Command, spec_file: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = springgeo("build", spec_file, "-o", out, "--state", "25N", "--format", "json")
    assert result.code == 0, result.err
    assert sorted(p.name for p in out.iterdir()) == ["manifest.json", "test-spring.json"]


@pytest.mark.parametrize(
    ("word", "near"), [("chek", "check"), ("mesure", "measure"), ("Draw", "draw"), ("fit ", "fit")]
)
def test_the_nearest_command(springgeo: Command, word: str, near: str) -> None:
    result = springgeo(word)
    assert_refused(result)
    assert f"did you mean '{near}'" in result.err


def test_the_nearest_file(springgeo: Command, spec_file: Path) -> None:
    result = springgeo("check", spec_file.with_name("sprig.yaml"))
    assert_refused(result)
    assert "did you mean 'spring.yaml'?" in result.err
