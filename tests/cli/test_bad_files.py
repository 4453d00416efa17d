"""Files and folders that cannot be used: one line, exit code 2, nothing left behind."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from .conftest import GOOD, Command
from .refused import assert_refused, refuse

LAUGHS = "a: &a [lol]\n" + "\n".join(
    f"{c}: &{c} [{', '.join([f'*{p}'] * 9)}]" for p, c in zip("abcdefgh", "bcdefghi", strict=True)
)

# (text, what stderr must say)
TEXTS = [
    (b"", "needs a mapping at the top"),
    (b"- 1\n- 2\n", "needs a mapping at the top"),
    (b"just words", "needs a mapping at the top"),
    (b"wire: {diameter: 1", "line 1"),
    (b"a: " + b"[" * 10_000, "nested deeper than 20"),
    (b"{a: " * 10_000, "nested deeper than 20"),
    (LAUGHS.encode(), "aliases"),
    (b"a: !!python/object/apply:os.system ['true']", "line 1, column 4"),
    (b"a: !!python/object/new:type {}", "line 1"),
    (GOOD.encode() + b"name: again\n", "key 'name' is given twice"),
    (GOOD.replace("coils: 18.5", "coils: 1, coils: 2").encode(), "key 'coils' is given twice"),
    (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "cannot read"),
    (GOOD.encode("utf-16"), "cannot read"),
    ("name: Führung".encode("latin-1"), "cannot read"),
    (b"\x00" * 1000, "line 1: has the character U+0000"),
    (b"\x7fELF\x02\x01\x01\x00", "line 1: has the character U+007F"),
    (b"# " + b"x" * 1_000_001, "larger than 1 MB"),
    (b"? {a: 1}\n: b\n", "line 1"),
    (GOOD.encode() + b"---\n" + GOOD.encode(), "line 8, column 1"),
]


@pytest.mark.parametrize(("text", "words"), TEXTS, ids=lambda v: repr(v[:20]))
def test_texts(springgeo: Command, tmp_path: Path, text: bytes, words: str) -> None:
    err = refuse(springgeo, tmp_path, text)
    assert err.startswith("springgeo: ")
    assert "bad.yaml" in err
    assert words in err


@pytest.mark.parametrize("command", ["build", "check"])
def test_files_that_cannot_be_read(springgeo: Command, tmp_path: Path, command: str) -> None:
    loop = tmp_path / "loop.yaml"
    loop.symlink_to(loop)
    for bad, words in (
        (tmp_path / "missing.yaml", "no such file"),
        (tmp_path, "directory"),
        (loop, "symbolic links"),
        (tmp_path / ("n" * 300 + ".yaml"), "too long"),
        (Path("/"), "directory"),
    ):
        result = springgeo(command, bad)
        assert_refused(result)
        assert "cannot read" in result.err
        assert words in result.err.lower()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_in_a_closed_folder(springgeo: Command, spec_file: Path) -> None:
    spec_file.parent.chmod(0)
    try:
        result = springgeo("check", spec_file)
    finally:
        spec_file.parent.chmod(0o755)
    assert_refused(result)
    assert "ermission denied" in result.err


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_closed_output_folder(springgeo: Command, spec_file: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir(mode=0o555)
    result = springgeo("build", spec_file, "-o", out)
    assert_refused(result)
    assert "ermission denied" in result.err


def test_output_folder_is_a_file(springgeo: Command, spec_file: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.write_text("mine")
    for place in (out, out / "below"):
        result = springgeo("build", spec_file, "-o", place)
        assert_refused(result)
        assert str(out) in result.err
    assert out.read_text() == "mine"


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs a place nobody can write to")
def test_output_folder_that_nobody_can_make(springgeo: Command, spec_file: Path) -> None:
    result = springgeo("build", spec_file, "-o", "/proc/springgeo/out")
    assert_refused(result)
    assert "/proc/springgeo/out" in result.err


def test_a_folder_is_in_the_way_of_a_file(
    springgeo: Command, spec_file: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    (out / "test-spring.stl" / "inside").mkdir(parents=True)
    result = springgeo("build", spec_file, "-o", out)
    assert_refused(result)
    assert "test-spring.stl" in result.err
    assert [p.name for p in out.iterdir()] == ["test-spring.stl"], "a part was published"


@pytest.mark.parametrize("kind", ["step", "stl", "json"])
def test_no_overwrite(springgeo: Command, spec_file: Path, tmp_path: Path, kind: str) -> None:
    out = tmp_path / "out"
    out.mkdir()
    there = out / f"test-spring.{kind}"
    there.write_text("mine")
    result = springgeo("build", spec_file, "-o", out, "--no-overwrite")
    assert_refused(result)
    assert f"test-spring.{kind}' exists" in result.err
    assert [p.name for p in out.iterdir()] == [there.name]
    assert there.read_text() == "mine"


def test_new_does_not_replace(springgeo: Command, spec_file: Path) -> None:
    result = springgeo("new", spec_file)
    assert_refused(result)
    assert "--force" in result.err
    assert spec_file.read_text(encoding="utf-8") == GOOD


def test_new_where_it_cannot_write(springgeo: Command, spec_file: Path) -> None:
    for bad in (spec_file / "x.yaml", spec_file.parent / "none" / "x.yaml"):
        assert_refused(springgeo("new", bad))
    result = springgeo("new", spec_file.parent, "--force")
    assert_refused(result)
    assert spec_file.exists()
