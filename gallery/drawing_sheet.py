"""Draws the maker's sheet of a gate latch spring, and checks what its dimensions say."""

from __future__ import annotations

from pathlib import Path

from shown import note

from springgeo import Spring
from springgeo.drawing import drawing_files, sheet


def main() -> None:
    spring = Spring.from_preset("gate-latch")
    summary = spring.summary()
    page = sheet(spring.model, summary, "A4")
    free = next(d for d in page.linear if d.key == "geometry.free_length")
    assert abs(free.value - 37.929) < 1e-3
    assert abs((free.end[0] - free.start[0]) / page.scale - free.value) < 1e-9
    out = Path(__file__).with_suffix(".png")
    out.write_bytes(drawing_files(spring.model, summary, "png")[0])
    note(out, spring)


if __name__ == "__main__":
    main()
