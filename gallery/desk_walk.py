"""The pictures of the documentation's walk at the desk: one spring, from opening to its sheet.

Run ``python gallery/desk_walk.py`` (needs Chromium or Chrome, and the extras dev, drawing and
live); ``--out`` for the folder. It does what the page says, and asserts what the page tells.
"""

from __future__ import annotations

import argparse
import io
import math
import sys
import tempfile
from pathlib import Path as File
from typing import Any

sys.path.insert(0, str(File(__file__).parent.parent))
sys.path.insert(0, str(File(__file__).parent))

from live_pages import DESK, NEEDED, served, set_value, stands
from PIL import Image

from tests.report.browser import Browser, find_browser

SPEC = """\
name: hatch spring
wire: {material: astm-a228, diameter: 1.2 mm}
body: {outer_diameter: 10.8 mm, coils: 18}   # the tube is 11.5 mm wide
ends: {first: machine-half-loop, second: machine-half-loop}
service: {loads: [12 N, 40 N], duty: cyclic, cycles: 1e5}
"""
WIDE, HIGH = 1280, 900
VERDICT = "document.getElementById('verdict').textContent"
OUT = File(__file__).parent / "docs" / "pages" / "walk"


def walk(page: Any, file: File) -> dict[str, bytes]:
    """Return the pictures of every step by their names."""
    found = {}
    page.until("document.readyState === 'complete'")
    page.until(f"{DESK} && {DESK}.curves.was && {DESK}.curves.now && {DESK}.times.whole")
    stands(page)
    assert page.run(f"{VERDICT}.startsWith('FAILS in fatigue')")
    found["opened"] = page.png()
    set_value(page, "wire.diameter", "1.35 mm", done=False)
    stands(page)
    assert page.run(f"{VERDICT}.startsWith('Holds')")
    assert file.read_text() == SPEC, "a value on the way is not yet in the file"
    found["thicker"] = page.png()
    set_value(page, "wire.diameter", "1.35 mm")
    page.until(f"{DESK}.number === 1")
    assert file.read_text() == SPEC.replace("1.2 mm", "1.35 mm"), "comments and order stay"
    page.run(f"{DESK}.pull(22)")
    stands(page)
    page.run("document.getElementById('fit-view').click()")
    found["pulled"] = part(page, "div.middle")
    page.run("document.getElementById('show-styles').click()")
    page.until("document.querySelectorAll('#cards .card').length >= 24")
    found["ends"] = part(page, "#styles")
    page.run("document.getElementById('show-sheet').click()")
    page.until("!!document.querySelector('#sheet img')?.complete")
    found["sheet"] = part(page, "#paper")
    return found


def part(page: Any, selector: str) -> bytes:
    """Return the picture of an element, in a window that is as high."""
    found = f"document.querySelector({selector!r})"
    page.size(WIDE, math.ceil(page.run(f"{found}.getBoundingClientRect().height")) + 400)
    page.settle()
    page.run(f"{found}.scrollIntoView(); scrollBy(0, -20)")
    page.settle()
    box = page.run(
        f"(() => {{ const r = {found}.getBoundingClientRect(); "
        "return [r.left, r.top, r.right, r.bottom]; })()"
    )
    whole = Image.open(io.BytesIO(page.png()))
    page.size(WIDE, HIGH)
    out = io.BytesIO()
    whole.crop(tuple(box)).save(out, "PNG", optimize=True)
    return out.getvalue()


def main() -> None:
    """Walk."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--out", type=File, default=OUT)
    o = parser.parse_args()
    if find_browser() is None:
        raise SystemExit(NEEDED)
    browser = Browser()
    try:
        page = browser.page()
        page.size(WIDE, HIGH)
        with tempfile.TemporaryDirectory() as folder:
            file = File(folder) / "spring.yaml"
            file.write_text(SPEC, encoding="utf-8")
            with served(file) as address:
                page.call("Page.navigate", url=address)
                for name, picture in walk(page, file).items():
                    (o.out / f"{name}.png").write_bytes(picture)
                    print(o.out / f"{name}.png")
    finally:
        browser.close()


if __name__ == "__main__":
    main()
