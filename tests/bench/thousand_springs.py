"""A thousand springs (STEP, STL, JSON) by one ``springgeo family``, against a plain shell loop.

Run ``python tests/bench/thousand_springs.py [COUNT]``. Measures wall and CPU time, and the resident
memory of the processes that build, when 10 %, 50 % and 100 % are done. The comparison is what a
user would otherwise write: one ``springgeo build`` after the other, for a sample, extrapolated.
"""

from __future__ import annotations

import csv
import json
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

ENDS = ["full-twisted-loop", "machine-half-loop", "raised-hook", "short-twisted-loop", "v-hook"]
JOBS, SAMPLE = 2, 20
MARKS = (0.1, 0.5, 1.0)
SPRINGGEO = [sys.executable, "-m", "springgeo"]


def rows(count: int) -> list[dict[str, object]]:
    """Return specifications that all differ: wire 0.5 to 3 mm, index 5 to 12, 6 to 40 coils."""
    found: list[dict[str, object]] = []
    for n in range(count):
        d = round(0.5 + 2.5 * ((n * 37) % 101) / 100, 3)
        index = 5 + 7 * ((n * 53) % 97) / 96
        found.append(
            {
                "name": f"spring {n:04d}",
                "wire.material": "astm-a228",
                "wire.diameter": d,
                "body.mean_diameter": round(index * d, 3),
                "body.coils": 6 + (n * 29) % 35,
                "ends.first.style": ENDS[n % 5],
                "ends.second.style": ENDS[(n // 5) % 5],
            }
        )
    return found


@dataclass
class Memory:
    """Resident memory, MB, of the building processes: now and at most, at each mark."""

    most: float = 0.0
    at: dict[float, tuple[float, float]] = field(default_factory=dict)


def resident(parent: int) -> list[float]:
    """Return the resident memory of every child of a process, MB (Linux)."""
    found = []
    for status in Path("/proc").glob("[0-9]*/status"):
        try:
            lines = status.read_text().splitlines()
            text = dict(line.split(":", 1) for line in lines if ":" in line)
        except OSError:
            continue
        if text.get("PPid", "").strip() == str(parent) and "VmRSS" in text:
            found.append(int(text["VmRSS"].split()[0]) / 1024)
    return found


def cpu() -> float:
    """Return the CPU seconds of all ended children and theirs."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def family(folder: Path, table: Path, count: int) -> tuple[float, float, Memory]:
    """Build the family; return wall and CPU seconds and the memory on the way."""
    memory, out = Memory(), folder / "out"
    start, before = time.perf_counter(), cpu()
    command = [*SPRINGGEO, "family", str(table), "-o", str(out), "--jobs", str(JOBS)]
    process = subprocess.Popen(command)
    while process.poll() is None:
        now = max(resident(process.pid), default=0.0)
        memory.most = max(memory.most, now)
        done = sum(1 for _ in out.glob("*/member.json")) / count
        for mark in MARKS:
            # the processes end with the last member: a little before stands for the end
            if done >= 0.98 * mark and mark not in memory.at and now:
                memory.at[mark] = now, memory.most
        time.sleep(0.25)
    return time.perf_counter() - start, cpu() - before, memory


def loop(folder: Path, table: list[dict[str, object]]) -> tuple[float, float]:
    """Build a sample one after the other; return wall and CPU seconds of one."""
    sample = table[:: max(len(table) // SAMPLE, 1)][:SAMPLE]
    start, before = time.perf_counter(), cpu()
    for row in sample:
        spec: dict[str, dict[str, object]] = {}
        for key, value in row.items():
            *path, last = key.split(".")
            place = spec
            for part in path:
                place = place.setdefault(part, {})
            place[last] = value  # type: ignore[assignment]
        file = folder / "one.yaml"
        file.write_text(json.dumps(spec))  # JSON is YAML
        command = [*SPRINGGEO, "build", str(file), "-o", str(folder / "loop")]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return (time.perf_counter() - start) / len(sample), (cpu() - before) / len(sample)


def main() -> None:
    """Print the table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    data = rows(count)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        table = folder / "table.csv"
        with table.open("w", newline="") as stream:
            writer = csv.DictWriter(stream, list(data[0]))
            writer.writeheader()
            writer.writerows(data)
        wall, used, memory = family(folder, table, count)
        manifest = json.loads((folder / "out" / "manifest.json").read_text())
        size = sum(p.stat().st_size for p in (folder / "out").rglob("*") if p.is_file())
        wall_1, used_1 = loop(folder, data)
    lines = [
        f"family: {manifest['built']} built, {manifest['failed']} failed, {JOBS} at a time: "
        f"{wall:.0f} s wall, {used:.0f} s CPU ({1e3 * used / count:.0f} ms each), "
        f"{size / 1e6:.0f} MB written",
        "memory of the greater of the building processes, MB:",
        *(
            f"  {100 * mark:3.0f} % done: {now:4.0f} now, {most:4.0f} at most so far"
            for mark, (now, most) in sorted(memory.at.items())
        ),
        f"loop of `springgeo build`: {SAMPLE} measured, {count} extrapolated: "
        f"{wall_1 * count:.0f} s wall, {used_1 * count:.0f} s CPU",
        f"the loop needs {wall_1 * count / wall:.1f} times the wall time and "
        f"{used_1 * count / used:.1f} times the CPU time",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
