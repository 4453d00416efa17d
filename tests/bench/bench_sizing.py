"""Candidates sized per second: `springgeo.sizing.search.search` against a plain Python loop.

Run ``python tests/bench/bench_sizing.py``. Both take every material, every series and five end
pairs on the same grid of indices, solve coils and initial tension, apply the same rules, and keep
the least mass that passes, in one process on one core. The search also finds the whole front.
"""

from __future__ import annotations

import json
import math
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from springgeo.sizing import Found, Job, job_of, size
from springgeo.sizing.job.wires import Wires
from springgeo.sizing.search.closed_form import proportions
from springgeo.sizing.search.search import COARSE, search

ENDS = [
    "full-twisted-loop",
    "machine-half-loop",
    "raised-hook",
    "short-twisted-loop",
    {"style": "machine-half-loop", "bend_radius": "2.5 d"},
]
JOB = {
    "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
    "envelope": {"outer_diameter": 14},
    "choice": {"ends": ENDS},
}
LOOPED = 60  # wires


def by_loop(job: Job, wires: Wires) -> tuple[int, float]:
    """Return how many candidates were looked at and the least mass, by a plain loop."""
    (line,) = job.lines
    C_all = np.geomspace(4, 16, math.ceil(math.log(4) / COARSE) + 1)
    least, count = math.inf, 0
    for pair in job.end_pairs:
        p = proportions(C_all, pair)
        columns = [C_all, p.pitch, p.a.length, p.a.r_1, p.a.r_2]
        rows = list(zip(*(x.tolist() for x in columns), strict=True))
        for d, G, E, rho, *_, S_body, S_A, S_B, _x, _y, _z in wires.table.tolist():
            for C, pitch, hook, r_1, r_2 in rows:
                count += 1
                if math.isnan(hook):  # the end cannot be bent at this index
                    continue
                D = C * d
                N_b = G * d / (8 * C**3 * line.k) - G / E
                L_0 = d * (N_b * pitch + 1 + 2 * hook)
                F_i = line.F_1 - line.k * (line.L_1 - L_0)
                tau = 8 * line.F_2 * C / (math.pi * d * d)
                tau_i = 8 * F_i * C / (math.pi * d * d)
                middle = 231 * math.exp(-0.105 * C)
                wide = 6.9 * (4 - (C - 3) / 6.5)
                C_1, C_2 = 2 * r_1, 2 * r_2
                K_A = (4 * C_1 * C_1 - C_1 - 1) / (4 * C_1 * (C_1 - 1))
                sigma = line.F_2 * (16 * K_A * C + 4) / (math.pi * d * d)
                margins = (
                    S_body / (tau * (4 * C + 2) / (4 * C - 3)),
                    S_A / sigma,
                    S_B / (tau * (4 * C_2 - 1) / (4 * C_2 - 4)),
                )
                slack = min(
                    N_b / 3 - 1,
                    1 - N_b / 500,
                    r_2 / 1.5 - 1,
                    1 - (D + d) / 14,
                    0.99 - F_i / line.F_1,
                    (tau_i - middle + wide) / middle,
                    (middle + wide - tau_i) / middle,
                    min(margins) / job.least.body - 1,
                )
                if slack >= 0:
                    wire = N_b * math.hypot(math.pi * D, d * pitch) + 2 * math.pi * D
                    least = min(least, math.pi / 4 * d * d * rho * wire)
    return count, least


def cold() -> float:
    """Return the CPU seconds of the whole command in a fresh process, with all its files."""
    with tempfile.TemporaryDirectory() as name:
        job = Path(name) / "job.yaml"
        job.write_text(json.dumps(JOB))  # JSON is YAML
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        command = [sys.executable, "-m", "springgeo", "size", str(job), "-o", f"{name}/out"]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Print candidates a second of both, their agreement, and the time of a whole job."""
    job = job_of(JOB)
    start = time.process_time()
    found = search(job)
    first = time.process_time() - start
    times = []
    for _ in range(5):
        start = time.process_time()
        found = search(job)
        times.append(time.process_time() - start)
    start = time.process_time()
    result = size(job)
    whole = time.process_time() - start
    rows = _some_wires(found)
    start = time.process_time()
    count, lightest = by_loop(job, found.wires.part(rows))
    loop = (time.process_time() - start) / count
    speed = found.looked_at / min(times)
    lines = [
        f"first search, tables of ends and materials included: {first:.2f} s CPU",
        f"search: {found.looked_at} candidates, {len(found.wires)} wires, {min(times):.3f} s CPU, "
        f"{speed / 1e6:.2f} million a second",
        f"loop:   {1e-6 / loop:.3f} million a second: {speed * loop:.0f} times slower",
        f"least mass: search {1e3 * found.costs[:, 0].min():.3f} g on the fine grid, loop "
        f"{1e3 * lightest:.3f} g on the coarse one",
        f"whole job, {len(result.winners)} winners re-checked along the wire: {whole:.2f} s CPU",
        f"the command in a fresh process, with its files and picture: {cold():.2f} s CPU",
        f"kernel loaded: {'OCP' in sys.modules}; scipy loaded: {'scipy' in sys.modules}",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


def _some_wires(found: Found) -> slice:
    """Return a slice of wires around the one of least mass."""
    mass = found.job.objectives.index("mass")
    best = found.places[int(found.costs[:, mass].argmin())].wire
    first = max(best - LOOPED // 2, 0)
    return slice(first, first + LOOPED)


if __name__ == "__main__":
    main()
