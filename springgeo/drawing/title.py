"""The frame, the title block with its projection symbol, and the notes of a sheet."""

from __future__ import annotations

import math

import numpy as np

from springgeo.drawing.data_rows import free_parameter
from springgeo.drawing.layout import Projection, scale_text
from springgeo.drawing.page import Line, Page, text_width, wrap
from springgeo.drawing.table import Box
from springgeo.summary import Summary
from springgeo.trade.dimension_tolerance import (
    Trade,
    angle_allowance,
    diameter_allowance,
    length_allowance,
)

_SMALL, _NAME, _BIG = 2.0, 2.5, 4.0


def draw_title(page: Page, box: Box, summary: Summary, projection: Projection, paper: str) -> None:
    """Draw the title block; cells for people's names, a date and a number stay empty."""
    page.box("TITLE", *box)
    high, wide = box.height, box.width
    y1, y2 = box.bottom + high * 0.36, box.bottom + high * 0.68
    page.line("TITLE", (box.left, y1), (box.right, y1))
    page.line("TITLE", (box.left, y2), (box.right, y2))
    _cell(page, box.left, box.top, "Helical extension spring", "")
    size = _BIG
    while text_width(summary.name, size) > wide - 4 and size > _NAME:
        size -= 0.1
    name = wrap(summary.name, size, wide - 4)
    page.text("TITLE", (box.left + 2, y2 + 1.6), name[0] + (" ..." if len(name) > 1 else ""), size)
    cells = ("Scale", scale_text(page.scale)), ("Units", "mm, N, MPa"), ("Paper", paper)
    for k, (label, value) in enumerate(cells):
        x = box.left + k * wide * 0.25
        if k:
            page.line("TITLE", (x, y1), (x, y2))
        _cell(page, x, y2, label, value)
    x = box.left + 0.75 * wide
    page.line("TITLE", (x, y1), (x, y2))
    _symbol(page, x + wide * 0.125, (y1 + y2) / 2, projection)
    for k, label in enumerate(("Drawn", "Checked", "Date", "Number")):
        x = box.left + k * wide * 0.25
        if k:
            page.line("TITLE", (x, box.bottom), (x, y1))
        _cell(page, x, y1, label, "")


def _cell(page: Page, x: float, top: float, label: str, value: str) -> None:
    page.text("TITLE", (x + 1.2, top - 1 - _SMALL), label, _SMALL)
    if value:
        page.text("TITLE", (x + 2, top - 2.9 - _SMALL - _NAME), value, _NAME)


def _symbol(page: Page, x: float, y: float, projection: Projection) -> None:
    """Draw the truncated cone: its circles stand right in first angle, left in third."""
    side = 1.0 if projection == "first" else -1.0
    big, small = 3.0, 1.5
    cx, left, right = x + side * 5.0, x - side * 5.0 - 3, x - side * 5.0 + 3
    t = np.linspace(0, 2 * math.pi, 49)
    for r in (big, small):
        circle = np.stack([cx + r * np.cos(t), y + r * np.sin(t)], axis=1)
        page.lines.append(Line("TITLE", circle))
    page.line(
        "TITLE",
        (left, y - small),
        (right, y - big),
        (right, y + big),
        (left, y + small),
        (left, y - small),
    )
    page.line("CENTRE", (left - 1, y), (right + 1, y))
    page.line("CENTRE", (cx - big - 1, y), (cx + big + 1, y))
    page.line("CENTRE", (cx, y - big - 1), (cx, y + big + 1))


def notes(summary: Summary, trade: Trade, left_out: int = 0) -> list[str]:
    """Return the notes: what rules, where tolerances come from, cautions.

    ``left_out`` is how many coils a broken view does not show.
    """
    g, s = summary.geometry, summary
    what, why = free_parameter(s)
    found = [
        "Shown without load."
        + (
            f" The body is drawn broken, {left_out} coils left out; dimensions are true."
            if left_out
            else ""
        ),
        f"Free for the maker: {what}, within its trade tolerance ({why}).",
    ]
    if len(s.points) >= 2:
        found.append("Values in brackets are for reference.")
    sources = {
        "D": diameter_allowance(g.mean_diameter, g.index),
        "L0": length_allowance(g.free_length, g.index, trade) if len(s.points) < 2 else None,
    }
    found += [f"± {key}: {a.source}." for key, a in sources.items() if a is not None]
    if sources["D"] is None:
        found.append("± D: outside the table; agree with the maker.")
    loads = {p.tolerance_source for p in s.load_line.handbook[2:]}
    found += [f"± F: {source}." for source in sorted(loads)]
    if g.loop_angle is not None:
        a = angle_allowance(g.body_coils)
        text = f"±{a.value:g}° in US trade" if a else "random in US trade beyond 16 coils"
        found.append(f"Angle between loops: {text}; agree what is needed.")
    if summary.parts:
        found.append(
            "LH of a fitted end: from the active body to where its part is loaded. The load at "
            "which it pulls out is not computed: prove it by test. Threads are not drawn."
        )
    if any(r is not None for r in (g.bend_radius_a, g.bend_radius_b)):
        found.append(
            "LH of a hook: from the body's end face to the inside of the hook. r1, r2: of the "
            "wire's centreline. No tool marks on the hooks."
        )
    found.append(
        "Guides design; does not replace the standards, the spring maker or a licensed engineer. "
        "Hooks break: provide a travel stop and secondary retention; wear eye protection. Never "
        "the only support of overhead or personnel loads."
    )
    return found


def draw_notes(page: Page, box: Box, texts: list[str]) -> None:
    """Write the notes, numbered, from the top of a box downward."""
    size = 2.5
    while size > 1.8:
        lines = _numbered(texts, size, box.width - 6)
        if len(lines) * 1.6 * size <= box.height - 8:
            break
        size -= 0.05
    page.text("NOTES", (box.left + 1.5, box.top - 2.5), "NOTES", 2.5)
    y = box.top - 5 - 1.6 * size
    for mark, line in _numbered(texts, size, box.width - 6):
        if mark:
            page.text("NOTES", (box.left + 1.5, y), mark, size)
        page.text("NOTES", (box.left + 5.5, y), line, size)
        y -= 1.6 * size


def _numbered(texts: list[str], size: float, width: float) -> list[tuple[str, str]]:
    lines = []
    for k, text in enumerate(texts, 1):
        for n, line in enumerate(wrap(text, size, width)):
            lines.append((f"{k}" if n == 0 else "", line))
    return lines
