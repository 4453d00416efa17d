"""Commands and options that do not exist or contradict each other."""

from __future__ import annotations

from pathlib import Path

import pytest

from .conftest import Command
from .refused import assert_refused

pytestmark = pytest.mark.usefixtures("presets_kept")

# (arguments, what stderr must say)
CASES = [
    (["biuld"], "biuld"),
    (["check", "--prest", "gate-latch"], "--prest"),
    (["check", "--preset"], "--preset"),
    (["check", "--preset", "gate-lach"], "did you mean 'gate-latch'"),
    (["check", "--preset", "zzz"], "use one of: damper-flap"),
    (["check", "--preset", ""], "is not a preset"),
    (["check", "--preset", "../presets/gate-latch"], "is not a preset"),
    (["check", "a.yaml", "b.yaml"], "b.yaml"),
    (["build", "--out"], "--out"),
    (["build", "--loud"], "--loud"),
    (["ends", "plian"], "did you mean 'plain'"),
    (["schema", "--yaml"], "--yaml"),
    (["materials", "--diameter", "thick"], "--diameter: needs a length"),
    (["materials", "--diameter", "2 N"], "'2 N' is a force"),
    (["materials", "--diameter", "0"], "must be above zero"),
    (["materials", "--diameter", "nan"], "--diameter"),
    (["new", "a.yaml", "b.yaml"], "b.yaml"),
    (["--frobnicate"], "--frobnicate"),
]


@pytest.mark.parametrize(("args", "words"), CASES, ids=lambda v: " ".join(v))
def test_refused(
    springgeo: Command,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    args: list[str],
    words: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    result = springgeo(*args)
    assert_refused(result)
    assert words in result.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", ["build", "check"])
def test_file_and_preset(springgeo: Command, spec_file: Path, command: str) -> None:
    result = springgeo(command, spec_file, "--preset", "gate-latch")
    assert_refused(result)
    assert "either a file or --preset" in result.err


def test_refusals_in_json(springgeo: Command, spec_file: Path) -> None:
    """With --json a program reads the findings on stdout; people still read stderr."""
    import json

    text = spec_file.read_text(encoding="utf-8").replace("coils: 18.5", "coils: -1")
    spec_file.write_text(text, encoding="utf-8")
    result = springgeo("check", spec_file, "--json")
    assert result.code == 2
    (finding,) = json.loads(result.out)["findings"]
    assert finding["code"] == "coils-too-small"
    assert finding["field"] == "body.coils"
    assert result.err.startswith("springgeo: body.coils: -1 is below the limit 2")
