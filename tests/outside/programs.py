"""Programs of the distribution, used where they are on the path."""

from __future__ import annotations

import re
import shutil
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

Row = tuple[str, str, str, str, str]
SECONDS = 300


def admesh(place: Path, exact: float) -> Row:
    """Check the STL file: nothing disconnected, nothing repaired."""
    done, took = _run(("admesh",), [str(place / "outside.stl")])
    if done is None:
        return "admesh", "stl", "skipped", "", took
    facts = dict(re.findall(r"([A-Z][A-Za-z ]+?) *: +(-?[\d.]+)", done))
    wrong = [
        k
        for k in ("Total disconnected facets", "Degenerate facets", "Edges fixed", "Normals fixed")
        if float(facts.get(k, 1)) != 0
    ]
    off = float(facts.get("Volume", 0)) / exact - 1
    word = "ok" if not wrong and abs(off) < 0.04 else "FAILED"
    what = f"{facts.get('Number of facets')} facets, {', '.join(wrong) or 'nothing to repair'}"
    return "admesh", "stl", word, f"{off:+.1e}", f"{took}, {what}"


def slicer(place: Path, _exact: float) -> Row:
    """Slice the 3MF file."""
    out = place / "outside.gcode"
    words = ["--export-gcode", "--support-material", "-o", str(out), str(place / "outside.3mf")]
    done, took = _run(("prusa-slicer", "slic3r"), words)
    if done is None:
        return "slicer", "3mf", "skipped", "", took
    text = out.read_text(errors="replace") if out.exists() else ""
    moves = text.count("\nG1 ")
    return "slicer", "3mf", "ok" if moves else "FAILED", "", f"{took}, {moves} moves"


def freecad(place: Path, exact: float) -> Row:
    """Read the STEP file, without a window."""
    script = place / "freecad_read.py"
    script.write_text(
        f"import Part\ns = Part.read({str(place / 'outside.step')!r})\n"
        "print('found', len(s.Solids), s.isValid(), s.Solids[0].Volume)\n"
    )
    done, took = _run(("freecadcmd", "FreeCADCmd"), [str(script)])
    if done is None:
        return "freecad", "step", "skipped", "", took
    found = re.search(r"found (\d+) (\w+) ([\d.]+)", done)
    if found is None:
        return "freecad", "step", "FAILED", "", (done.splitlines() or ["no answer"])[-1][:90]
    off = float(found[3]) / exact - 1
    ok = found[1] == "1" and found[2] == "True" and abs(off) < 1e-5
    what = f"{took}, {found[1]} solid, valid: {found[2]}"
    return "freecad", "step", "ok" if ok else "FAILED", f"{off:+.1e}", what


def _run(names: tuple[str, ...], words: list[str]) -> tuple[str | None, str]:
    """Return what a program printed and the seconds it took, or None and why it did not run."""
    found = next((p for p in map(shutil.which, names) if p), None)
    if found is None:
        return None, f"{names[0]} is not installed"
    start = time.monotonic()
    try:
        done = subprocess.run(
            [found, *words], capture_output=True, text=True, check=False, timeout=SECONDS
        )
    except (OSError, subprocess.TimeoutExpired) as exc:
        return None, type(exc).__name__
    return done.stdout + done.stderr, f"{time.monotonic() - start:.1f}"


PROGRAMS: tuple[Callable[[Path, float], Row], ...] = (admesh, slicer, freecad)
