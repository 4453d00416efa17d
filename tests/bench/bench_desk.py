"""The desk in a headless browser: from a slider to its numbers and its loaded shape, and memory.

Run ``python tests/bench/bench_desk.py`` on an idle machine: every move is made once the shape of
the one before stands (``--pause`` ms later); 50 coils, two hooks. Of the shape, the answer with
its data stands beside what was drawn of it. Aims: numbers 80 ms, shape 160 ms (95 of 100). The
processor time of the desk's processes stands beside, which a busy machine changes less.

``--minutes 60`` makes random edits instead, steps back and other end styles among them, and
prints memory once a minute: resident, of every process of the desk, and of the page's scripts.
``--pause`` is then waited after each edit. At the end every question must have its answer, and
the numbers on the page must be those of the file.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from tests.desk.conftest import served
from tests.report.browser import Browser, Page

SPEC = """\
name: fifty coils
wire: {material: astm-a228, diameter: 1.2 mm}
body: {mean_diameter: 9.6 mm, coils: 50, initial_tension: 7 N}
ends:
  first: {style: full-twisted-loop, bend_radius: 2.4 mm}
  second: {style: machine-half-loop, bend_radius: 2.4 mm}
service: {loads: [15 N, 30 N]}
"""
# as a browser composes pages on a machine without a graphics card
BARE = ("--disable-gpu-compositing", "--disable-gpu-rasterization")
DESK = "document.getElementById('canvas').desk"
# moved by random edits, with what their values lie between
MOVED = {
    "wire.diameter": (1.1, 1.4, "{:.3f} mm"),
    "body.mean_diameter": (8.5, 11.0, "{:.2f} mm"),
    "body.coils": (8.0, 60.0, "{:.2f}"),
    "body.initial_tension": (4.0, 9.0, "{:.2f} N"),
    "ends.first.bend_radius": (1.8, 3.0, "{:.2f} mm"),
}
STYLES = ("full-twisted-loop", "machine-half-loop", "v-hook", "small-eye-at-side", "raised-hook")
# the shape counts as there when its pixels are: they are read back, which waits for the drawing
CLOCK = f"""(() => {{
  const desk = {DESK}, marks = {{}}, gl = desk.stage.view.stage.gl, pixel = new Uint8Array(4);
  const mark = (o, k, v) => {{
    if (k === 'shapedone') gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    o[k] = v;
    marks[k] = performance.now();
    return true;
  }};
  desk.times = new Proxy(desk.times, {{ set: mark }});
  window.move = async (key, text, pause) => {{
    const field = document.getElementById('f-' + key.replaceAll('.', '-'));
    const busy = () => [desk.nearPump, desk.shapePump, desk.ghostPump].some((p) => p.busy || p.wanted);
    while (busy()) await new Promise((d) => setTimeout(d, 5));
    await new Promise((d) => setTimeout(d, pause));
    const began = performance.now();
    field.value = text;
    field.dispatchEvent(new Event('input'));
    while (!(marks.shapedone > began)) await new Promise((d) => setTimeout(d, 1));
    return [marks.near - began, marks.answer - began, marks.shapedone - began];
  }};
}})()"""  # noqa: E501

# counts questions and answers; the last one, what is new in the file, waits for its answer
COUNTED = """(() => {
  const way = window.fetch, told = window.told = { asked: 0, answered: 0, failed: 0, kinds: {} };
  window.fetch = async (...what) => {
    told.asked++;
    const kind = JSON.parse(what[1].body).what;
    told.kinds[kind] = (told.kinds[kind] || 0) + 1;
    try {
      const answer = await way(...what);
      told[answer.ok ? 'answered' : 'failed']++;
      return answer;
    } catch (e) { told.failed++; throw e; }
  };
})()"""
# what the page shows, and what it would show of the file as it is
SHOWN = f"""(async () => {{
  const desk = {DESK}, fresh = await desk.asker.ask('near', {{ changes: {{}} }});
  return JSON.stringify(desk.now.rows) === JSON.stringify(fresh.rows);
}})()"""


@contextmanager
def opened(folder: Path) -> Iterator[tuple[Page, Path]]:
    """Give a page of the desk, and the file that it shows."""
    path = folder / "spring.yaml"
    path.write_text(SPEC)
    browser = Browser(*BARE)
    try:
        page = browser.page()
        page.size(1400, 900)
        with served(path) as address:
            page.call("Page.navigate", url=address)
            page.until("document.documentElement?.dataset.drawn === 'yes'")
            page.until(f"{DESK}.curves.was && {DESK}.curves.now")
            yield page, path
    finally:
        browser.close()


def descendants(part: str) -> list[int]:
    """Return the processes that this one began, and theirs, of programs with ``part`` in them."""
    parents: dict[int, list[int]] = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                stat = (entry / "stat").read_text()
            except OSError:
                continue
            parents.setdefault(int(stat.rpartition(")")[2].split()[1]), []).append(int(entry.name))
    found, todo = [], [p for p in parents.get(os.getpid(), []) if part in _command(p)]
    while todo:
        found.append(todo.pop())
        todo += parents.get(found[-1], [])
    return found


def _command(pid: int) -> str:
    try:
        return Path(f"/proc/{pid}/cmdline").read_text()
    except OSError:
        return ""


def processor(pids: list[int]) -> float:
    """Return the processor seconds that processes have used."""
    ticks = 0
    for pid in pids:
        fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


def go_first(pids: list[int]) -> None:
    """Let a browser go before other work; `nice` cannot: its threads set their own."""
    for pid in pids:
        for thread in Path(f"/proc/{pid}/task").iterdir():
            with suppress(OSError):
                os.setpriority(os.PRIO_PROCESS, int(thread.name), -20)


def resident(pids: list[int]) -> list[float]:
    """Return the resident memory of processes, MB."""
    page = os.sysconf("SC_PAGE_SIZE") / 1e6
    return [int(Path(f"/proc/{pid}/statm").read_text().split()[1]) * page for pid in pids]


def speed(page: Page, moves: int, pause: float, *, first: bool) -> None:
    """Print how long numbers and shape take to come, so many ms after the one before stands."""
    if first:
        go_first(descendants("chrom"))
    page.run(CLOCK)
    times = []
    for i in range(moves + 3):
        if i == 3:  # the first ones warm up
            times.clear()
            before = processor(descendants("springgeo"))
        value = f"{1.2 + 0.001 * ((i * 7) % 50):.3f} mm"
        times.append(page.run(f"move('wire.diameter', '{value}', {pause})"))
    used = 1e3 * (processor(descendants("springgeo")) - before) / moves
    names = "numbers", "answer", "shape"
    for name, column in zip(names, zip(*times, strict=True), strict=True):
        p95 = statistics.quantiles(column, n=20)[-1]
        print(f"{name:8} median {statistics.median(column):5.0f} ms   p95 {p95:5.0f} ms")
    print(f"processor time of the desk's processes: {used:.0f} ms a move")


def endurance(page: Page, path: Path, minutes: float, seed: int, pause: float) -> None:
    """Make random edits, so many ms after each other; print memory once a minute."""
    draw, edits, began = random.Random(seed), 0, time.monotonic()
    told = -1
    page.run(COUNTED)
    while time.monotonic() - began < 60 * minutes:
        edit(page, path, draw)
        time.sleep(pause / 1e3)
        edits += 1
        minute = int((time.monotonic() - began) / 60)
        if minute > told:
            told = minute
            print(f"{minute:3} min, {edits:5} edits: {memory(page)}", flush=True)
    settled(page)
    print(f"  at the end, {edits:5} edits: {memory(page)}")


def memory(page: Page) -> str:
    """Return in words what the page's scripts and the desk's processes hold."""
    page.call("HeapProfiler.collectGarbage")
    heap = page.run("performance.memory.usedJSHeapSize") / 1e6
    each = sorted(resident(descendants("springgeo")), reverse=True)
    listed = " ".join(f"{x:.0f}" for x in each)
    return f"scripts {heap:4.1f} MB, processes {sum(each):.0f} MB ({listed})"


def settled(page: Page) -> None:
    """Wait until nothing is asked; print what became of every question, and what is not so."""
    page.run("document.getElementById('back').click()")  # what was refused is not kept
    page.until(f"!Object.keys({DESK}.changes).length")
    _typed(page, "wire.diameter", "1.2 mm")
    page.until(f"{DESK}.nearPump.busy === false && !Object.keys({DESK}.changes).length")
    page.until("told.asked - told.answered - told.failed <= 1")
    told = page.run("told")
    print(f"questions: {told['asked']} asked, {told['answered']} answered, {told['failed']} failed")
    print(f"the numbers shown are the file's: {'yes' if page.run(SHOWN) else 'NO'}")
    print(f"the page's log: {len(page.log)} lines", *page.log[:5], sep="\n")


def edit(page: Page, path: Path, draw: random.Random) -> None:
    """Make one edit by chance: a slider, another style, a step back, another editor."""
    chance = draw.random()
    if chance < 0.05:
        page.run("document.getElementById('back').click()")
    elif chance < 0.08:
        _typed(page, "ends.first.style", draw.choice(STYLES))
    elif chance < 0.1:
        name = f"name: fifty coils {draw.random():.6f}\n"
        text = name + path.read_text().partition("\n")[2]
        other = path.with_suffix(".new")
        other.write_text(text)
        other.replace(path)
    else:
        key = draw.choice(list(MOVED))
        low, high, told = MOVED[key]
        for _ in range(draw.randint(1, 6)):
            _typed(page, key, told.format(draw.uniform(low, high)), done=False)
            time.sleep(draw.uniform(0.02, 0.2))
        _typed(page, key, told.format(draw.uniform(low, high)))
    time.sleep(draw.uniform(0.0, 0.5))


def _typed(page: Page, key: str, text: str, *, done: bool = True) -> None:
    events: list[Any] = ["input", *(["change"] if done else [])]
    page.run(
        f"(() => {{ const e = document.getElementById('f-{key.replace('.', '-')}'); if (!e) return;"
        f" e.value = {text!r}; for (const n of {events}) e.dispatchEvent(new Event(n)); }})()"
    )


def main() -> None:
    """Measure."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--moves", type=int, default=60)
    parser.add_argument("--pause", type=float, default=0.0)
    parser.add_argument(
        "--first", action="store_true", help="the browser before all other work (root)"
    )
    parser.add_argument("--minutes", type=float, default=0.0)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, opened(Path(folder)) as (page, path):
        if given.minutes:
            endurance(page, path, given.minutes, given.seed, given.pause)
        else:
            speed(page, given.moves, given.pause, first=given.first)


if __name__ == "__main__":
    main()
