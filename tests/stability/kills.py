"""Runs killed at random moments: whole files or none, and never files of two runs side by side.

Run as ``python -m tests.stability.kills [--count 300] [--first 0] [--out FILE]``. A run is its
number. Half of the runs are killed at a random time, half at a random one of their steps on
files, so that the moments between two renames are met. Each replaces the files of an earlier run
with another spring's. Tags: ``partial`` (a file that is neither the old nor the new one),
``mixed`` (a file that vouches for others of another run), ``left`` (hidden folders, or files
unlike a run that nobody killed, after the next run), ``code``.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

Files = dict[str, bytes]
# what a run writes: its words for (folder, specification), and the file that vouches for others
COMMANDS: dict[str, tuple[Callable[[Path, Path], list[str]], str]] = {
    "build": (lambda out, spec: ["build", str(spec), "-o", str(out)], "spring.json"),
    "states": (
        lambda out, spec: [
            *("build", str(spec), "-o", str(out), "--format", "stl", "--format", "glb"),
            *("--state", "free", "--state", "30N"),
        ],
        "manifest.json",
    ),
    "report": (lambda out, spec: ["report", str(spec), "-o", str(out / "a.html")], ""),
    "draw": (lambda out, spec: ["draw", str(spec), "-o", str(out / "a.svg")], ""),
    "prototype": (lambda out, spec: ["prototype", str(spec), "-o", str(out / "a.3mf")], ""),
    "family": (
        lambda out, spec: [
            *("family", str(spec.with_suffix(".csv")), "-o", str(out), "--summary-only"),
            *("--jobs", "1"),
        ],
        "",
    ),
}
_STEPS = {"open", "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.link", "shutil.rmtree"}


def specification(folder: Path, coils: int) -> Path:
    """Write a small spring, and a family of two of it; return the specification's path."""
    file = folder / f"spec-{coils}.yaml"
    head = (
        "name,wire.material,wire.diameter,body.index,body.coils,ends.first.style,ends.second.style"
    )
    row = "astm-a228,2 mm,6,{coils},machine-half-loop,machine-half-loop"
    rows = [f"{n}," + row.format(coils=coils + i) for i, n in enumerate(("one", "two"))]
    file.with_suffix(".csv").write_text("\n".join([head, *rows]) + "\n")
    file.write_text(
        "name: spring\nwire: {material: astm-a228, diameter: 2 mm}\n"
        f"body: {{index: 6, coils: {coils}}}\n"
        "ends: {a: {style: machine-half-loop}, b: {style: machine-half-loop}}\n"
        "service: {loads: [30 N]}\n"
    )
    return file


def seen(folder: Path) -> Files:
    """Return every file in a folder and below by its name, hidden folders left out."""
    return {
        str(p.relative_to(folder)): p.read_bytes()
        for p in sorted(folder.rglob("*"))
        if p.is_file() and not any(part.startswith(".") for part in p.relative_to(folder).parts)
    }


def start(words: list[str], out: Path, step: int | None = None, told: int | None = None) -> int:
    """Run a command in a forked child, which kills itself at its ``step`` on files in ``out``.

    ``told`` is a pipe into which it writes a byte for every such step.
    """
    child = os.fork()
    if child:
        return child
    os.setsid()
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, 1)
    os.dup2(null, 2)
    done = 0

    def hook(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal done
        if event in _STEPS and any(str(a).startswith(str(out)) for a in arguments[:2]):
            if done == step:
                os.kill(0, signal.SIGKILL)
            done += 1

    sys.addaudithook(hook)
    from springgeo.cli.main import run

    code = run(words)
    if told is not None:
        os.write(told, b"." * done)
    os._exit(code)


class Trial:
    """One command with an old and a new spring: what whole runs leave, how long they take."""

    def __init__(self, name: str, place: Path) -> None:
        self.words, self.vouches = COMMANDS[name]
        self.place = place / name
        self.specs = [specification(place, 3), specification(place, 5)]
        self.whole: list[Files] = []
        for spec in self.specs:
            out = self._fresh()
            begun = time.perf_counter()
            read, write = os.pipe()
            os.waitpid(start(self.words(out, spec), out, told=write), 0)
            self.took = time.perf_counter() - begun
            self.whole.append(seen(out))
            os.close(write)
            with os.fdopen(read, "rb") as stream:
                self.steps = len(stream.read())

    def _fresh(self) -> Path:
        shutil.rmtree(self.place, ignore_errors=True)
        self.place.mkdir()
        return self.place

    def _restore(self, files: Files) -> Path:
        out = self._fresh()
        for name, data in files.items():
            (out / name).parent.mkdir(parents=True, exist_ok=True)
            (out / name).write_bytes(data)
        return out

    def run(self, draw: random.Random) -> tuple[str, list[str]]:
        """Kill one run, look, let the next one go through, look again."""
        old, new = self.whole
        out = self._restore(old)
        words = self.words(out, self.specs[1])
        step = draw.randrange(self.steps) if draw.random() < 0.5 else None
        child = start(words, out, step)
        if step is None:
            time.sleep(draw.uniform(0.0, 1.05 * self.took))
            for sent in (lambda: os.kill(child, signal.SIGKILL), lambda: os.killpg(child, 9)):
                try:
                    sent()
                except ProcessLookupError:
                    continue
        code = os.waitpid(child, 0)[1]
        found = seen(out)
        tags = [
            f"partial {n}"
            for n, d in found.items()
            if d not in (old.get(n), new.get(n)) and not _is_progress(d)
        ]
        tags += _mixed_by_manifest(found)
        if self.vouches and self.vouches in found:
            whole = old if found[self.vouches] == old[self.vouches] else new
            tags += [f"mixed {n}" for n, d in whole.items() if found.get(n) != d]
        tags += _mixed_members(found)
        again = os.waitpid(start(words, out), 0)[1]
        after = seen(out)
        tags += ["code"] if again else []
        tags += [f"left {n}" for n in after | new if after.get(n) != new.get(n)]
        tags += [f"left {p.name}" for p in out.rglob(".springgeo-*")]
        state = "new" if found == new else "old" if found == old else "between"
        return f"{'killed' if code == signal.SIGKILL else 'ended'}, {state}", tags


def _is_progress(data: bytes) -> bool:
    """Return whether a file is a family's manifest with members that are waiting."""
    try:
        return int(json.loads(data)["waiting"]) > 0
    except (ValueError, TypeError, KeyError):
        return False


def _mixed_by_manifest(found: Files) -> list[str]:
    """Return the files of which the manifest, a family's included, says something else."""
    manifest = json.loads(found.get("manifest.json", b"{}"))
    listed = {e["file"]: e["sha256"] for e in manifest.get("files", [])}
    for member in manifest.get("members", []):
        for name, digest in member.get("files", {}).items():
            listed[f"{member['stem']}/{name}"] = digest
    return [
        f"mixed {name}"
        for name, digest in listed.items()
        if hashlib.sha256(found.get(name, b"")).hexdigest() != digest
    ]


def _mixed_members(found: Files) -> list[str]:
    """Return what a member's own record says wrongly of the files beside it."""
    tags = []
    for name, data in found.items():
        if name.endswith("member.json"):
            folder = name.removesuffix("member.json")
            for file, digest in json.loads(data)["files"].items():
                if hashlib.sha256(found.get(folder + file, b"")).hexdigest() != digest:
                    tags.append(f"mixed {folder}{file}")
    return tags


def kills(count: int, first: int, names: list[str], place: Path) -> tuple[Counter[str], list[Any]]:
    """Kill ``count`` runs, the commands in turn; return what was seen, and what is wrong."""
    trial = cache(lambda name: Trial(name, place))
    answers: Counter[str] = Counter()
    failures: list[Any] = []
    for number in range(first, first + count):
        name = names[number % len(names)]
        state, tags = trial(name).run(random.Random(f"killed {number}"))
        answers[f"{name}: {state}"] += 1
        failures += [{"run": number, "command": name, "tag": t} for t in tags]
    return answers, failures


def main(arguments: list[str] | None = None) -> int:
    """Run, print what was seen, write the failures; 1 if there are any."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--out", type=Path, default=Path("kills.json"))
    parser.add_argument("commands", nargs="*", default=list(COMMANDS))
    options = parser.parse_args(arguments)
    import springgeo.checks.solid  # noqa: F401  the kernel once for all: children are forked

    with tempfile.TemporaryDirectory() as place:
        answers, failures = kills(options.count, options.first, options.commands, Path(place))
    text = {"count": options.count, "answers": answers, "failures": failures}
    options.out.write_text(json.dumps(text, indent=1), encoding="utf-8")
    for answer, number in sorted(answers.items()):
        print(f"{number:5}  {answer}")
    print(f"failures: {failures or 'none'}")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
