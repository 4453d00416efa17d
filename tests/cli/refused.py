"""What every refusal has in common, and the specification that each case spoils."""

from __future__ import annotations

from pathlib import Path

from .conftest import GOOD, Command, Result

LONGEST_LINE = 700


def assert_refused(result: Result) -> None:
    """Exit code 2, a line or more of ``springgeo: ...`` on stderr, no trace of Python."""
    assert result.code == 2, result
    lines = result.err.splitlines()
    assert lines, "nothing said on stderr"
    for line in lines:
        assert line.startswith("springgeo: "), line
        assert len(line) <= LONGEST_LINE, line
        assert len(line) > len("springgeo: ") + 5, line
    assert "Traceback" not in result.err + result.out
    assert result.out == "", "a refusal goes to stderr alone"


def refuse(springgeo: Command, folder: Path, text: str | bytes) -> str:
    """Return stderr of a build of ``text``; nothing may be written."""
    file, out = folder / "bad.yaml", folder / "out"
    out.mkdir(exist_ok=True)
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    result = springgeo("build", file, "-o", out)
    assert_refused(result)
    assert list(out.iterdir()) == [], "something was written"
    return result.err


def spoilt(old: str, new: str) -> str:
    """Return the good specification with one place changed."""
    assert GOOD.count(old) == 1, old
    return GOOD.replace(old, new)
