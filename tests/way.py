"""The wire diameter's way from a YAML file to STEP: which calls carry it back up the house.

Run as ``python -m tests.way``. A spring of an odd diameter is built by the command while every call
is watched; one carries the diameter if an argument is it or its half, or holds it within three
steps. Imports point down only (``tests.layers``), so a call from a room to one above it is one that
was handed down before: a callback, or a method of a class that is written higher up. These are the
climbs; the test of the same name names the two that are meant.
"""

from __future__ import annotations

import io
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from types import FrameType
from typing import Any

from tests.layers import ROOT, level

DIAMETER = 1.2345
SPEC = f"""
wire: {{material: astm-a228, diameter: {DIAMETER}}}
body: {{index: 8, coils: 3}}
ends: {{first: {{style: machine-half-loop}}, second: {{style: full-loop-at-side}}}}
service: {{loads: [30]}}
"""
DEEP = 3
Move = tuple[str, str]


def moves() -> Counter[Move]:
    """Return how often a call took the diameter from one room into another."""
    from springgeo.cli.main import run

    found: Counter[Move] = Counter()

    def watch(frame: FrameType, event: str, _arg: object) -> None:
        if event != "call" or (to := _room(frame)) is None or frame.f_back is None:
            return
        back: FrameType | None = frame.f_back
        while back is not None and (above := _room(back)) is None:
            back = back.f_back
        if back is not None and above != to and any(map(_holds, _arguments(frame))):
            found[above, to] += 1

    with tempfile.TemporaryDirectory() as place:
        spec = Path(place) / "spring.yaml"
        spec.write_text(SPEC, encoding="utf-8")
        words = ["build", str(spec), "-o", str(Path(place) / "out"), "--format", "step"]
        said = io.StringIO()
        sys.setprofile(watch)
        try:
            with redirect_stdout(said), redirect_stderr(said):
                code = run(words)
        finally:
            sys.setprofile(None)
    if code != 0:
        raise RuntimeError(f"build left with {code}: {said.getvalue()}")
    return found


def climbs(found: Counter[Move]) -> dict[Move, int]:
    """Return the moves from a room to one above it."""
    return {m: n for m, n in found.items() if level(m[1]) > level(m[0])}


def _room(frame: FrameType) -> str | None:
    """Return the room that a frame's code stands in; the front door, as none, counts for nobody."""
    file = frame.f_code.co_filename
    if not file.startswith(f"{ROOT}/"):
        return None
    name = file[len(str(ROOT)) + 1 :].split("/")[0].removesuffix(".py")
    return None if name.startswith("__") else name


def _arguments(frame: FrameType) -> Iterator[Any]:
    code = frame.f_code
    count = code.co_argcount + code.co_kwonlyargcount
    for name in code.co_varnames[:count]:
        if name in frame.f_locals:
            yield frame.f_locals[name]


def _holds(value: Any, deep: int = DEEP) -> bool:
    if isinstance(value, float):
        return value in (DIAMETER, DIAMETER / 2)
    if isinstance(value, str):
        return str(DIAMETER) in value
    if not deep:
        return False
    if isinstance(value, dict):
        return any(_holds(v, deep - 1) for v in value.values())
    if isinstance(value, (list, tuple)):
        return any(_holds(v, deep - 1) for v in value[:50])
    if type(value).__module__.startswith("springgeo."):
        return any(_holds(v, deep - 1) for v in getattr(value, "__dict__", {}).values())
    return False


def main() -> int:
    """Print the rooms on the way and every climb."""
    found = moves()
    rooms = {room for move in found for room in move}
    up = climbs(found)
    lines = [f"{len(rooms)} rooms, {len(found)} ways between them, {len(up)} of them up:"]
    lines += [f"  {a} -> {b} ({n} calls)" for (a, b), n in sorted(up.items())]
    sys.stdout.write("\n".join(lines) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
