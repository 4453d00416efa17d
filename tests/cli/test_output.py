"""What is printed: a full or closed output has its own exit code; hidden characters are shown."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from springgeo.cli.main import CANNOT_PRINT, run
from springgeo.errors import SpecError
from springgeo.specification.load import spec_of
from springgeo.text.characters import hidden, shown

from .conftest import GOOD, Command
from .refused import assert_refused

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="needs a shell with redirections")


def _shell(command: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        f"'{sys.executable}' -m springgeo {command}",
        shell=True,
        executable="/bin/bash",
        cwd=cwd,
        capture_output=True,
        text=True,
        check=False,
    )


@POSIX
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
@pytest.mark.parametrize("command", ["schema", "ends", "--help", "check --preset gate-latch"])
def test_a_full_disk_under_the_output(tmp_path: Path, command: str) -> None:
    done = _shell(f"{command} > /dev/full", tmp_path)
    assert done.returncode == CANNOT_PRINT
    assert done.stderr == ("springgeo: cannot write to standard output: no space left on device\n")


@POSIX
def test_a_closed_output(tmp_path: Path) -> None:
    done = _shell("check --preset gate-latch >&-", tmp_path)
    assert done.returncode == CANNOT_PRINT
    assert done.stderr == "springgeo: cannot write to standard output: it is closed\n"


@POSIX
def test_with_every_stream_closed_no_file_takes_their_place(tmp_path: Path) -> None:
    (tmp_path / "spring.yaml").write_text(GOOD, encoding="utf-8")
    done = _shell("build spring.yaml -o out --format stl <&- >&- 2>&-", tmp_path)
    assert done.returncode == CANNOT_PRINT
    names = sorted(p.name for p in (tmp_path / "out").iterdir())
    assert names == ["test-spring.json", "test-spring.stl"]
    assert json.loads((tmp_path / "out" / names[0]).read_text())["name"] == "test spring"


@POSIX
def test_a_refusal_that_nobody_can_read_is_still_one(tmp_path: Path) -> None:
    for closed in ("2>&-", "2>/dev/full" if Path("/dev/full").exists() else "2>&-"):
        assert _shell(f"check none.yaml {closed}", tmp_path).returncode == 2


@POSIX
def test_letters_that_the_terminal_does_not_know(tmp_path: Path) -> None:
    text = GOOD.replace("test spring", "Führung 弹簧")
    (tmp_path / "spring.yaml").write_text(text, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "springgeo", "check", "spring.yaml"],
        cwd=tmp_path,
        capture_output=True,
        env={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C"},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(b"F\\xfchrung \\u5f39\\u7c27: music wire")


CLEAR = "\x1b[2J\x1b]0;owned\x07"


@pytest.mark.parametrize(
    "spoil",
    [
        lambda text: text.replace("test spring", '"a\\e[2Jb"'),
        lambda text: text.replace("full-twisted-loop", '"\\e[2J"'),
        lambda text: text.replace("astm-a228", '"\\e[2J"'),
        lambda text: text.replace("diameter: 1.2 mm", 'diameter: "\\e[2J"'),
        lambda text: text.replace("coils: 18.5", '"\\e[2J": 1'),
        lambda text: text.replace("test spring", '"a\\rb"'),
        lambda text: text.replace("test spring", '"a\\u202eb"'),
        lambda text: text + "\x1b: 1\n",
    ],
)
def test_nothing_hidden_reaches_the_terminal(
    springgeo: Command, spec_file: Path, spoil: object
) -> None:
    spec_file.write_text(spoil(GOOD), encoding="utf-8")  # type: ignore[operator]
    result = springgeo("check", spec_file)
    assert_refused(result)
    assert hidden(result.err.replace("\n", "")) is None


@pytest.mark.parametrize("args", [["check"], ["size"], ["measure"], ["family"], ["inspect"], []])
def test_nor_by_the_names_of_files_and_commands(
    springgeo: Command, tmp_path: Path, args: list[str]
) -> None:
    result = springgeo(*args, f"{tmp_path}/{CLEAR}.yaml" if args else CLEAR)
    assert_refused(result)
    assert hidden(result.err.replace("\n", "")) is None
    assert "\\x1b[2J" in result.err


def test_a_name_beside_the_file_is_offered_as_it_shows(springgeo: Command, tmp_path: Path) -> None:
    (tmp_path / "spring\x1b.yaml").write_text("x")
    result = springgeo("check", tmp_path / "spring.yaml")
    assert "did you mean 'spring\\x1b.yaml'?" in result.err


def test_a_summary_from_elsewhere_is_printed_as_it_shows(
    springgeo: Command, spec_file: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    assert springgeo("build", spec_file, "-o", out, "--format", "stl").code == 0
    file = out / "test-spring.json"
    file.write_text(file.read_text().replace('"test spring"', json.dumps(CLEAR)))
    printed = springgeo("inspect", out / "test-spring.stl")
    assert hidden((printed.out + printed.err).replace("\n", "")) is None


def test_no_name_with_hidden_characters_gets_into_a_file() -> None:
    import yaml

    for name in (CLEAR, "a\nb", "a\x00", "\ud800", "a\u2066b"):
        with pytest.raises(SpecError, match="name"):
            spec_of(yaml.safe_load(GOOD) | {"name": name})


def test_shown_keeps_what_people_write() -> None:
    text = "Führung µ Ω 弹簧 ±5 % “x” 𝛑\n\tnext"
    assert shown(text, lines=True) == text
    assert not re.search(r"[\x00-\x1f]", shown("".join(map(chr, range(0x300)))))


def test_the_streams_come_back() -> None:
    before = sys.stdout, sys.stderr
    run(["--version"])
    assert (sys.stdout, sys.stderr) == before
