"""The pages one works at, in a browser: the desk, a comparison, one to try out, choices of a job.

Run ``python gallery/live_pages.py`` (needs Chromium or Chrome, and the extras dev and live);
options: names of pages, ``--out`` for the folder. It asserts the length that the desk shows.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path as File
from typing import Any

sys.path.insert(0, str(File(__file__).parent.parent))

from shown import note

from springgeo import Spring
from springgeo.findings import nearest
from tests.report.browser import Browser, find_browser

JOB = """\
name: lid return
points: [{length: 60, load: 15}, {length: 75, load: 30}]
choice: {materials: [astm-a228], ends: [machine-half-loop]}
"""
NEEDED = "skipped: needs Chromium or Chrome (Debian: apt-get install chromium)"
PRESET, THICKER = "gate-latch", 1.35
DESK = "document.getElementById('canvas').desk"


def command(*arguments: str) -> list[str]:
    """Return springgeo's command line on this Python."""
    return [sys.executable, "-m", "springgeo", *arguments]


@contextmanager
def served(file: File) -> Iterator[str]:
    """Serve a file at the desk; give the address."""
    quiet = os.environ | {"OPENBLAS_NUM_THREADS": "1"}
    desk = subprocess.Popen(
        command("open", str(file), "--no-browser"), stdout=subprocess.PIPE, text=True, env=quiet
    )
    assert desk.stdout is not None
    try:
        yield desk.stdout.readline().split()[-1]
    finally:
        desk.terminate()
        desk.wait(30)


def set_value(page: Any, key: str, text: str, *, done: bool = True) -> None:
    """Type a value at the desk and wait for all that follows from it; ``done`` writes it."""
    count = page.run(f"{DESK}.times.whole")
    kinds = ["input", *(["change"] if done else [])]
    page.run(
        f"(() => {{ const e = document.getElementById('f-{key.replace('.', '-')}'); "
        f"e.value = {text!r}; for (const k of {kinds}) e.dispatchEvent(new Event(k)); }})()"
    )
    page.until(f"{DESK}.times.whole > {count}")


def stands(page: Any) -> None:
    """Wait until shape and ghost are drawn, and finely."""
    busy = " || ".join(f"{DESK}.{p}Pump.busy" for p in ("near", "shape", "ghost"))
    page.until(f"{DESK}.stage.answer?.rough === false && !({busy})")
    page.settle()


def desk(page: Any, folder: File) -> bytes:
    """Show a preset with thicker wire beside what it was."""
    spring = Spring.from_preset(PRESET)
    file = folder / "gate-latch.yaml"
    file.write_text(spring.specification_text, encoding="utf-8")
    with served(file) as address:
        page.call("Page.navigate", url=address)
        page.until("document.readyState === 'complete'")
        page.until(f"{DESK} && {DESK}.curves.was && {DESK}.curves.now")
        set_value(page, "wire.diameter", f"{THICKER} mm", done=False)
        page.until(f"!!{DESK}.stage.haunted")
        stands(page)
        text = page.run("document.getElementById('reading').textContent").replace("\xa0", " ")
        picture: bytes = page.png()
    found = re.match(r"([\d.]+) N, ([\d.]+) mm inside hooks", text)
    assert found, text
    check(spring.with_(wire__diameter=THICKER), float(found[1]), float(found[2]))
    return picture


def check(spring: Spring, load: float, length: float) -> None:
    """Assert the length by hand: L0 + (F − Fi) 8 D³ Na/(G d⁴), Na = Nb + G/E for two hooks."""
    s = spring.summary()
    active = s.geometry.body_coils + s.material.shear_modulus / s.material.elastic_modulus
    give = 8 * s.geometry.mean_diameter**3 * active
    give /= s.material.shear_modulus * s.geometry.wire_diameter**4
    by_hand = (load - s.initial_tension.force) * give
    assert abs((length - s.geometry.free_length) / by_hand - 1) < 0.03, "the page's length is off"


def compare(page: Any, folder: File) -> bytes:
    """Show three variants of a preset."""
    spring = Spring.from_preset(PRESET)
    names = {"as-built": {}, "thicker": {"wire.diameter": "1.3 mm"}, "longer": {"body.coils": 22}}
    for name, values in names.items():
        text = spring.with_(values).specification_text
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    files = [str(folder / f"{n}.yaml") for n in names]
    out = folder / "compare.html"
    subprocess.run(
        command("compare", *files, "-o", str(out)), check=True, stdout=subprocess.DEVNULL
    )
    page.open(out)
    return taken(page)


def explore(page: Any, folder: File) -> bytes:
    """Show a page with two sliders, both moved."""
    out = folder / "explore.html"
    vary = {"wire.diameter": ["1.1 mm", "1.2 mm", "1.3 mm"], "body.coils": [16, 18.5, 21]}
    Spring.from_preset(PRESET).explore(out, vary)
    page.open(out)
    for i in range(2):
        page.run(
            f"(() => {{ const e = document.getElementById('k-{i}'); e.value = 2; "
            "e.dispatchEvent(new Event('input')); })()"
        )
    return taken(page)


def choices(page: Any, folder: File) -> bytes:
    """Show what a job comes to."""
    (folder / "job.yaml").write_text(JOB, encoding="utf-8")
    out = folder / "sizes"
    run = command("size", str(folder / "job.yaml"), "-o", str(out), "--page", "--top", "3")
    subprocess.run(run, check=True, stdout=subprocess.DEVNULL)
    page.open(out / "choices.html")
    return taken(page)


def taken(page: Any) -> bytes:
    """Return the window as it stands."""
    found: bytes = page.png()
    return found


# page, width and height of the window, px
PAGES: dict[str, tuple[Callable[[Any, File], bytes], int, int]] = {
    "desk": (desk, 1500, 1080),
    "compare": (compare, 1200, 1180),
    "explore": (explore, 1400, 1000),
    "choices": (choices, 1300, 1160),
}


def main() -> None:
    """Draw."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("pages", nargs="*", default=list(PAGES), metavar="PAGE")
    parser.add_argument("--out", type=File, default=File(__file__).parent)
    o = parser.parse_args()
    if find_browser() is None:
        raise SystemExit(NEEDED)
    for name in o.pages:
        if name not in PAGES:
            raise SystemExit(f"'{name[:40]}' is no page; {nearest(name, PAGES)}")
    browser = Browser()
    try:
        for name in o.pages:
            draw, wide, high = PAGES[name]
            page = browser.page()
            page.size(wide, high)
            with tempfile.TemporaryDirectory() as folder:
                out = o.out / f"live_pages_{name}.png"
                out.write_bytes(draw(page, File(folder)))
            page.close()
            if name != "choices":
                note(out, Spring.from_preset(PRESET))
            print(out)
    finally:
        browser.close()


if __name__ == "__main__":
    main()
