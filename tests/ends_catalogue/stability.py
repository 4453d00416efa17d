"""Hundreds of random springs per end style, every failure tagged and written as JSON.

Run as ``python -m tests.ends_catalogue.stability [--count 300] [--solids 12] [--out FILE]
[STYLE ...]``; styles outside the package count as well. Tags: ``spec`` (refused inside its own
range), ``centreline`` (lengths, radii, contact, plane), ``joint``, ``self-contact``, ``box``, and
for the first ``--solids`` springs of each style ``solid`` and ``volume``; ``timeout`` where a
process hangs.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from springgeo.ends import registry
from springgeo.spring.geometry import Geometry

from .checks import outcome, random_case

VOLUME = 1e-6
BLOCK = 10
# seconds that a block may keep us waiting before its process counts as hung
LIMIT = 600.0


def solid_problems(g: Geometry) -> list[tuple[str, str]]:
    """Return what the kernel says against the solid of the whole spring."""
    from springgeo.solid import is_valid, tube_solid, volume

    try:
        solid = tube_solid(g.path, g.diameter / 2)
    except Exception as exc:
        return [("solid", f"{type(exc).__name__}: {exc}")]
    found = [] if is_valid(solid) else [("solid", "not valid")]
    exact = math.pi * g.diameter**2 / 4 * g.path.length
    off = abs(volume(solid) / exact - 1)
    if off > VOLUME:
        found.append(("volume", f"{off:.2g} from the wire's"))
    return found


def run(name: str, first: int, count: int, solids: int) -> list[dict[str, Any]]:
    """Return the failures of the seeds from ``first`` on."""
    style, failed = registry.get(name), []
    for seed in range(first, first + count):
        case = random_case(style, seed)
        result = outcome(case)
        found = list(result.failures)
        if seed < solids and result.geometry is not None:
            found += solid_problems(result.geometry)
        failed += [
            {"style": name, "seed": seed, "tag": tag, "what": what, "case": case.facts()}
            for tag, what in found
        ]
    return failed


def every(
    name: str, count: int, solids: int, jobs: int, limit: float = LIMIT
) -> list[dict[str, Any]]:
    """Return the failures of one style; a process that dies or hangs is one of them."""
    found: list[dict[str, Any]] = []
    with ProcessPoolExecutor(jobs, mp_context=get_context("spawn")) as pool:
        blocks = {
            i: pool.submit(run, name, i, min(BLOCK, count - i), solids)
            for i in range(0, count, BLOCK)
        }
        for first, block in blocks.items():
            try:
                found += block.result(limit)
            except BrokenProcessPool:
                found.append({"style": name, "seed": first, "tag": "solid", "what": "crashed"})
                break
            except TimeoutError:
                text = f"{BLOCK} springs took more than {limit:g} s"
                found.append({"style": name, "seed": first, "tag": "timeout", "what": text})
                for process in list(pool._processes.values()):
                    process.kill()
                break
    return found


def main(arguments: list[str] | None = None) -> int:
    """Run, print one line per style, write the failures; 1 if there are any."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--solids", type=int, default=12)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--out", type=Path, default=Path("stability.json"))
    parser.add_argument("styles", nargs="*")
    options = parser.parse_args(arguments)
    names = options.styles or list(registry.styles())
    failures: list[dict[str, Any]] = []
    for name in names:
        start = time.perf_counter()
        found = every(name, options.count, options.solids, options.jobs)
        failures += found
        tags = dict(Counter(f["tag"] for f in found))
        took = time.perf_counter() - start
        print(f"{name}: {options.count} springs, {took:.0f} s, {tags or 'no failure'}", flush=True)
        text = json.dumps({"count": options.count, "failures": failures}, indent=1)
        options.out.write_text(text, encoding="utf-8")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
