"""Damaged files of every format that ``springgeo inspect`` reads: an answer or one line, in time.

Run as ``python -m tests.stability.damaged [--count 2000] [--first 0] [--out FILE]``. A case is its
number; each failure is tagged and written as JSON. Tags: ``traceback`` (of the command, or of the
process that reads), ``death`` (of the command), ``hang`` (more than 10 s of computing), ``lines``
(more than one line of refusal), ``code`` (of leaving), ``json`` (an answer that is not JSON, or
not finite).
"""

from __future__ import annotations

import argparse
import io
import json
import random
import re
import resource
import sys
import tempfile
import time
from collections import Counter
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

from springgeo.api import Spring
from springgeo.cli.main import run

from .damage import damaged

HANG = 10.0
STEM = "few-coils"
FORMATS = ("step", "stl", "3mf", "glb")
# STEP takes the kernel a second each, the others a tenth
CHOICE = [".step"] * 4 + [".3mf"] * 4 + [".glb"] * 4 + [".stl"] * 2 + [".json"]


def originals(folder: Path) -> list[dict[str, bytes]]:
    """Return the sound files of two springs, by name: one with a swivel, one in two states."""
    from springgeo.files.publish.bundle import export_bundle

    found = []
    for end in ("machine-half-loop", "coned-swivel-eye"):
        spring = Spring.from_dict(
            {
                "name": STEM,
                "wire": {"material": "astm-a228", "diameter": "2 mm"},
                "body": {"index": 6, "coils": 2},
                "ends": {"first": {"style": "plain"}, "second": {"style": end}},
            }
        )
        place = folder / end
        export_bundle(spring.model, place, formats=FORMATS, detail="light")
        found.append({p.name: p.read_bytes() for p in sorted(place.iterdir())})
    return found


def case(number: int, files: list[dict[str, bytes]], folder: Path) -> tuple[str, list[str]]:
    """Return what came of one damaged file, and the tags of what is wrong with that."""
    draw = random.Random(f"damaged {number}")
    chosen = draw.choice(files)
    kind = draw.choice(CHOICE)
    names = sorted(n for n in chosen if n.endswith(kind))
    target = draw.choice(names)
    for name, data in chosen.items():
        (folder / name).write_bytes(damaged(data, kind, draw) if name == target else data)
    # what is beside an STL is damaged in its place
    asked = target if kind != ".json" else next(n for n in chosen if n.endswith(".stl"))
    as_json = draw.random() < 0.3
    return inspected(folder / asked, as_json)


def inspected(file: Path, as_json: bool) -> tuple[str, list[str]]:
    """Return what ``springgeo inspect`` says of a file in a few words, and what is wrong."""
    out, err = io.StringIO(), io.StringIO()
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    tags = []
    try:
        with redirect_stdout(out), redirect_stderr(err):
            code = run(["inspect", str(file), *(["--json"] if as_json else [])])
    except BaseException as exc:
        return f"{type(exc).__name__}: {exc}"[:200], ["traceback"]
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime > HANG:
        tags.append("hang")
    words = err.getvalue()
    if code not in (0, 2):
        tags.append("code")
    if words.count("\n") != (code == 2) or (code == 2 and out.getvalue()):
        tags.append("lines")
    if "Traceback" in words or "left with" in words:
        tags.append("traceback")
    if code == 0 and as_json and not _is_json(out.getvalue()):
        tags.append("json")
    if code == 0:
        return "read", tags
    ended = re.search(r"ended by SIG\w+|took more than|more than .* of memory|left with.*", words)
    return ended[0] if ended else "refused", [*tags]


def _is_json(text: str) -> bool:
    def refuse(word: str) -> Any:
        raise ValueError(word)

    try:
        json.loads(text, parse_constant=refuse)
    except ValueError:
        return False
    return True


def main(arguments: list[str] | None = None) -> int:
    """Run, print a line for every hundred, write the failures; 1 if there are any."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--out", type=Path, default=Path("damaged.json"))
    options = parser.parse_args(arguments)
    failures: list[dict[str, Any]] = []
    answers: Counter[str] = Counter()
    start = time.perf_counter()
    with tempfile.TemporaryDirectory() as place:
        files = originals(Path(place) / "sound")
        for done, number in enumerate(range(options.first, options.first + options.count), 1):
            folder = Path(place) / str(number)
            folder.mkdir()
            answer, tags = case(number, files, folder)
            for file in folder.iterdir():
                file.unlink()
            folder.rmdir()
            answers[re.sub(r"left with.*", "left with", answer)] += 1
            failures += [{"case": number, "tag": t, "what": answer} for t in tags]
            if done % 100 == 0 or done == options.count:
                took = time.perf_counter() - start
                print(f"{done} files, {took:.0f} s, {dict(answers)}", flush=True)
                text = {"count": done, "answers": answers, "failures": failures}
                options.out.write_text(json.dumps(text, indent=1), encoding="utf-8")
    tags = dict(Counter(f["tag"] for f in failures))
    print(f"failures: {tags or 'none'}")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
