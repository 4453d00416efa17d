"""The 3-D view's own part of the page: canvas, legend, slider, buttons, and what stands in."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from springgeo import colours
from springgeo.report.html import Markup, render
from springgeo.report.stroke import Stop, Stroke
from springgeo.report.value import number

_VIEWS = (("angle", "Angle"), ("side", "Side"), ("top", "Top"), ("end", "First end"))


def view_section(stroke: Stroke, view: dict[str, Any], picture: str) -> Markup:
    """Return the view with its controls; ``picture`` is the drawing that stands in for it."""
    count, last = len(stroke.states), stroke.states[-1].length
    return render(
        "view",
        picture=Markup(picture),
        load=number(stroke.load, 3),
        length=number(last),
        moved=number(last - stroke.states[0].length),
        lengths="one length" if count == 1 else f"{count} lengths",
        remark=stroke.remark,
        stops=[_stop(p, i) for i, p in enumerate(stroke.stops)],
        kinds=view["kinds"],
        toggles=_toggles(bool(view["parts"]), bool(view["marks"])),
        views=_VIEWS,
        **_scale(),
    )


def _scale() -> dict[str, Any]:
    """Return the colour scale: colours over the share of the allowable, and its three words."""
    top, near = colours.TOP, colours.NEAR
    edges = (0.0, near, 1.0, top)
    middles = [(a + b) / 2 for a, b in pairwise(edges)]
    return {
        "top": top,
        "near_percent": f"{100 * near:g}",
        "ramp": colours.ramp()[::2],
        "words": list(zip(middles, colours.WORDS, strict=True)),
        "ticks": [
            (0.0, "0", "start"),
            *((x, f"{100 * x:g}", "middle") for x in (near / 2, near, 1.0)),
            (top, f"{100 * top:g} %", "end"),
        ],
    }


def _toggles(parts: bool, marks: bool) -> list[tuple[str, str, bool]]:
    found = [("cut", "Section cut", False), ("sizes", "Length", True)]
    if parts:
        found.insert(1, ("parts", "Mating parts", True))
    if marks:
        found.append(("names", "Hook bending and torsion", True))
    return found


def _stop(p: Stop, i: int) -> tuple[str, str]:
    return repr(p.load), "free" if i == 0 else f"{p.name}, {number(p.load, 3)} N"
