"""The process of a command: when it begins to look for garbage."""

from __future__ import annotations

import subprocess
import sys

import pytest

from springgeo.cli.main import run

# says, where the last of the command's output is written, how garbage is looked for
TOLD = """
import gc, sys
from springgeo.cli.entry import main
import springgeo.cli.commands.lists.materials as command
told = command.command.callback
def callback(*given, **named):
    print(gc.isenabled(), gc.get_threshold()[0] > 700, gc.get_freeze_count() > 10_000)
    return told(*given, **named)
command.command.callback = callback
sys.argv = ["springgeo", "materials"]
main()
"""


def test_garbage_is_looked_for_once_the_command_is_there() -> None:
    done = subprocess.run([sys.executable, "-c", TOLD], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[0] == "True True True"


def test_loaded_is_called_once(capsys: pytest.CaptureFixture[str]) -> None:
    calls = []
    assert run(["materials"], loaded=lambda: calls.append(1)) == 0
    assert calls == [1]
    assert run(["no-such-command"], loaded=lambda: calls.append(2)) == 2
    assert calls == [1]
    capsys.readouterr()
