"""Progress: one line on a terminal, taken away at the end; nothing in a pipe."""

from __future__ import annotations

import io
import sys

import pytest

from springgeo.cli.main import run
from springgeo.cli.progress import Progress

pytestmark = pytest.mark.usefixtures("presets_kept")


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def terminal(monkeypatch: pytest.MonkeyPatch) -> Terminal:
    """Put a terminal in place; within the test, since pytest's own capture would undo it before."""
    screen = Terminal()
    monkeypatch.setattr(sys, "stderr", screen)
    return screen


def test_a_bar_grows_and_goes(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = terminal(monkeypatch)
    with Progress(2) as say:
        say("first")
        say("second")
    frames = [line.removeprefix("\033[K") for line in screen.getvalue().split("\r")[1:]]
    assert frames == [f"  [{'-' * 20}] first", f"  [{'#' * 10}{'-' * 10}] second", ""]


def test_it_goes_when_a_step_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = terminal(monkeypatch)

    def work() -> None:
        with Progress(1) as say:
            say("step")
            raise ValueError("broken")

    with pytest.raises(ValueError, match="broken"):
        work()
    assert "step" in screen.getvalue()
    assert screen.getvalue().endswith("\r\033[K")


def test_build_names_every_file_on_a_terminal(monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    screen = terminal(monkeypatch)
    words = [
        "build",
        "--preset",
        "relay-armature",
        "-o",
        str(tmp_path),
        "--format",
        "stl",
        "--format",
        "glb",
        "--state",
        "free",
    ]
    assert run(words) == 0
    shown = screen.getvalue()
    assert "writing" in shown
    assert ".stl" in shown
    assert ".glb" in shown
    assert "\n" not in shown


def test_a_pipe_gets_nothing(tmp_path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["build", "--preset", "relay-armature", "-o", str(tmp_path), "--format", "stl"]
    assert run(words) == 0
    assert capsys.readouterr().err == ""
