"""The report's page in a browser: a screenshot, and a length read off the page as shown.

Run ``python gallery/report_page.py`` (needs Chromium or Chrome); options: preset, ``--out``.
"""

from __future__ import annotations

import argparse
import re
import shutil
import subprocess
import tempfile
from pathlib import Path as File

from shown import note

from springgeo import Spring, report

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome")
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--force-color-profile=srgb",
    "--virtual-time-budget=8000",
)
WIDTH, HEIGHT = 1240, 1000
NEEDED = "skipped: needs Chromium or Chrome (Debian: apt-get install chromium)"


def browser() -> str | None:
    """Return a browser's path, or None."""
    return next((p for name in BROWSERS if (p := shutil.which(name))), None)


def seen(page: File, out: File) -> tuple[float, float]:
    """Take the picture; return load, N, and length, mm, as the page's script wrote them."""
    program = browser()
    assert program is not None
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as home:
        own = [program, *FLAGS, f"--user-data-dir={home}", f"--window-size={WIDTH},{HEIGHT}"]
        shown = subprocess.run(
            [*own, "--dump-dom", page.as_uri()], capture_output=True, text=True, check=True
        ).stdout
        subprocess.run(
            [*own, f"--screenshot={out}", page.as_uri()], capture_output=True, check=True
        )
    found = re.search(r'id="reading"[^>]*>([\d.]+) N, ([\d.]+) mm inside hooks', shown)
    assert found, "the page's script did not run"
    return float(found[1]), float(found[2])


def check(spring: Spring, load: float, length: float) -> None:
    """Assert the length by hand: L0 + (F − Fi) 8 D³ Na/(G d⁴), Na = Nb + G/E for two hooks."""
    g, m = spring.summary().geometry, spring.summary().material
    active = g.body_coils + m.shear_modulus / m.elastic_modulus
    give = 8 * g.mean_diameter**3 * active / (m.shear_modulus * g.wire_diameter**4)
    by_hand = (load - spring.summary().initial_tension.force) * give
    assert abs((length - g.free_length) / by_hand - 1) < 0.02, "the page's length is off"


def draw(name: str, out: File) -> None:
    """Write the report on a preset and take its picture."""
    spring = Spring.from_preset(name)
    with tempfile.TemporaryDirectory() as folder:
        page = report.write(spring, File(folder) / "spring.html")
        check(spring, *seen(page, out))
    note(out, spring)


def main() -> None:
    """Draw."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("preset", nargs="?", default="gate-latch")
    parser.add_argument("--out", type=File, default=File(__file__).with_suffix(".png"))
    o = parser.parse_args()
    if browser() is None:
        raise SystemExit(NEEDED)
    draw(o.preset, o.out.resolve())
    print(o.out)


if __name__ == "__main__":
    main()
