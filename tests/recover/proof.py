"""Recovers random springs from spoiled surfaces and counts what was met.

``python -m tests.recover.proof --count 300`` draws springs over all wire styles by seed, samples
their true surface, spoils it, and compares what is recovered with what was drawn. Bounds: wire
diameter within 1 %, mean diameter 0.3 %, coils 0.02, hand always, style 95 %, r1 and r2 5 %; of
clean surfaces 1e-3 for all, style 99 %.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.errors import SpecError
from springgeo.files.surface import Surface
from springgeo.recovery.recover import shape_of_surface
from springgeo.recovery.specification import recovered
from tests.recover.specimens import STYLES, Specimen, Spoil, cloud, mesh, specimen
from tests.recover.thinned import thinned

POINTS = 600_000
BOUNDS = {"wire_diameter": 0.01, "mean_diameter": 0.003, "coils": 0.02, "r1": 0.05, "r2": 0.05}
CLEAN = dict.fromkeys(BOUNDS, 1e-3)
# whose stated 95 % intervals are held against the truth
INTERVALS = "wire_diameter", "mean_diameter", "coils", "pitch"


@dataclass(frozen=True)
class Trial:
    """One specimen and what was done to it."""

    seed: int
    kind: str
    spoil: Spoil


def trial(seed: int, clean: str | None = None) -> Trial:
    """Return what is done to the specimen of a seed: spoiled, or the kind of ``clean``."""
    draw = random.Random(f"trial {seed}")
    if clean:
        return Trial(seed, clean, Spoil())
    spoil = Spoil(
        noise=draw.uniform(0.02, 0.1),
        missing=draw.uniform(0.2, 0.6),
        one_side=draw.random() < 0.5,
        clutter=draw.uniform(0.0, 0.03),
    )
    if draw.random() < 0.2:
        return Trial(seed, "decimated mesh", Spoil())
    return Trial(seed, "one side" if spoil.one_side else "holes", spoil)


def surface(t: Trial, of: Specimen) -> Surface:
    """Return the spoiled surface as a file would give it."""
    if t.kind == "STEP solid":
        from tests.recover.solids import step_surface

        return step_surface(of)
    if t.kind == "clean mesh":
        return Surface("mesh", *mesh(of, 0.01), None)
    if t.kind == "decimated mesh":
        return Surface("mesh", *thinned(*mesh(of, 0.01), of.seed), None)
    return Surface("point cloud", cloud(of, t.spoil, POINTS), None, 1.0)


def run(t: Trial) -> dict[str, Any]:
    """Return how far each value of one trial is off."""
    of = specimen(t.seed)
    truth = of.truth
    out: dict[str, Any] = {"seed": t.seed, "kind": t.kind, "spoil": t.spoil.__dict__}
    given = surface(t, of)
    start = time.process_time()
    try:
        shape = shape_of_surface(given, "part", "mm")
        found = recovered(shape, given, "part")
    except SpecError as exc:
        return out | {"refused": str(exc)[:200], "cpu": time.process_time() - start}
    out["cpu"] = time.process_time() - start
    v = found.values
    for name in ("wire_diameter", "mean_diameter"):
        out[name] = v[name].value / truth[name] - 1
    out["coils"] = v["coils"].value - truth["coils"]
    out["hand"] = found.hand == truth["hand"]
    same = float(found.axis @ of.axes[:, 2]) > 0
    out["ends"] = [
        _end(found.ends[k if same else 1 - k], truth, k, shape.ends[k if same else 1 - k])
        for k in (0, 1)
    ]
    out["inside"] = {n: abs(v[n].value - truth[n]) <= v[n].uncertainty for n in INTERVALS}
    return out


def _end(end: Any, truth: dict[str, Any], k: int, found: Any) -> dict[str, Any]:
    wire = found.candidate.wire(found.data.end).shape
    row: dict[str, Any] = {
        "style": truth["styles"][k],
        "found": end.style,
        "guess": found.candidate.style.name,
        "equal": list(end.equal),
        "off": end.off,
        "unseen": end.unseen,
    }
    for name, key in (("loop_radius", "r1"), ("bend_radius", "r2")):
        value, true = getattr(wire, name), truth[name][k]
        row[key] = None if value is None or true is None else value / true - 1
        said = end.values.get(name)
        if said is not None and true is not None:
            row[f"{key} inside"] = abs(said.value - true) <= said.uncertainty
    row["r2/d"] = (
        None
        if truth["bend_radius"][k] is None
        else truth["bend_radius"][k] / truth["wire_diameter"]
    )
    return row


def counted(rows: list[dict[str, Any]], bounds: dict[str, float]) -> Iterator[tuple[str, int, int]]:
    """Yield each bound's name, how many met it, and out of how many."""
    done = [r for r in rows if "refused" not in r]
    yield "recovered", len(done), len(rows)
    yield "hand", sum(r["hand"] for r in done), len(done)
    for name in ("wire_diameter", "mean_diameter", "coils"):
        yield name, sum(abs(r[name]) <= bounds[name] for r in done), len(done)
    ends = [e for r in done for e in r["ends"]]
    yield "style", sum(e["found"] == e["style"] for e in ends), len(ends)
    named = sum(e["style"] in (e["found"], *e["equal"]) for e in ends)
    yield "style, or named as equal", named, len(ends)
    yield from _covered(done, ends)
    for key in ("r1", "r2"):
        had = [e[key] for e in ends if e["found"] == e["style"] and e[key] is not None]
        yield (
            f"{key}, of ends of the right style",
            sum(abs(x) <= bounds[key] for x in had),
            len(had),
        )


def _covered(
    done: list[dict[str, Any]], ends: list[dict[str, Any]]
) -> Iterator[tuple[str, int, int]]:
    """Yield how many true values lie in the stated intervals; of radii, of the right styles."""
    for name in INTERVALS:
        yield f"{name}, in its interval", sum(r["inside"][name] for r in done), len(done)
    for key in ("r1 inside", "r2 inside"):
        told = [e[key] for e in ends if e["found"] == e["style"] and key in e]
        yield f"{key[:2]}, in its interval", sum(told), len(told)


def _rows(out: Path | None) -> list[dict[str, Any]]:
    """Return the trials that a file already has."""
    if out is None or not out.exists():
        return []
    return [json.loads(line) for line in out.read_text().splitlines()]


def main() -> None:
    """Run the trials that the arguments ask for and print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=0, help="the first one")
    parser.add_argument("--count", type=int, default=300, help="seeds, run or passed over")
    parser.add_argument("--every", type=int, default=1, help="seeds from one trial to the next")
    parser.add_argument("--only", type=int, nargs="+", help="these seeds alone")
    parser.add_argument("--clean", action="store_true", help="clean meshes alone")
    parser.add_argument("--step", action="store_true", help="STEP solids alone")
    parser.add_argument("--out", type=Path, help="a row a trial; seeds it has are not run again")
    asked = parser.parse_args()
    kind = "STEP solid" if asked.step else "clean mesh" if asked.clean else None
    seeds = asked.only or range(asked.seed, asked.seed + asked.count, asked.every)
    rows = _rows(asked.out)
    known = {r["seed"] for r in rows}
    for seed in seeds:
        if seed in known:
            continue
        row = run(trial(seed, kind))
        rows.append(row)
        sys.stderr.write(f"\r{len(rows)} trials")
        if asked.out:
            with asked.out.open("a") as file:
                file.write(json.dumps(row, default=float) + "\n")
    print()
    print(f"{len(STYLES)} styles")
    for name, met, of in counted(rows, CLEAN if kind else BOUNDS):
        print(f"{name:36s} {met:4d} of {of:4d}  {100 * met / max(of, 1):6.1f} %")
    print(f"processor time, s: median {np.median([r['cpu'] for r in rows]):.1f}")


if __name__ == "__main__":
    main()
