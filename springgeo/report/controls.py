"""The 3-D view's own part of the page: canvas, legend, slider, buttons, and what stands in."""

from __future__ import annotations

from itertools import pairwise

from springgeo import colours
from springgeo.report.html import Markup, render
from springgeo.report.script_words import SCALE
from springgeo.report.stroke import Stop, Stroke
from springgeo.report.value import Values
from springgeo.text import quantity as q
from springgeo.text.json_value import Json
from springgeo.text.shown import word

_VIEWS = (
    ("angle", word("Angle")),
    ("side", word("Side")),
    ("top", word("Top")),
    ("end", word("First end")),
)


def view_section(stroke: Stroke, view: dict[str, object], picture: str, v: Values) -> Markup:
    """Return the view with its controls; ``picture`` is the drawing that stands in for it."""
    count, last = len(stroke.states), stroke.states[-1].length
    return render(
        "view",
        picture=Markup(picture),
        say=v.say,
        still=v.say(
            "At {load} and {length} inside hooks, {moved} longer than free; first end to the left.",
            load=q.force(stroke.load, 3),
            length=q.length(last, 4),
            moved=q.length(last - stroke.stops[0].length, 4),
        ),
        lengths=v.say("one length") if count == 1 else v.say("{count} lengths", count=count),
        as_mounted=stroke.as_mounted,
        remark=v.text(stroke.remark),
        stops=[_stop(p, i, v) for i, p in enumerate(stroke.stops)],
        kinds=view["kinds"],
        toggles=[(k, v.text(words), on) for k, words, on in _toggles(view)],
        views=[(k, v.text(words)) for k, words in _VIEWS],
        **scale_of(v),
    )


def scale_of(v: Values) -> dict[str, Json]:
    """Return the colour scale: colours over the share of the allowable, and its three words."""
    top, near = colours.TOP, colours.NEAR
    edges = (0.0, near, 1.0, top)
    middles = [(a + b) / 2 for a, b in pairwise(edges)]
    return {
        "top": top,
        "near_percent": f"{100 * near:g}",
        "ramp": colours.ramp()[::2],
        "words": list(zip(middles, map(v.text, SCALE), strict=True)),
        "ticks": [
            (0.0, "0", "start"),
            *((x, f"{100 * x:g}", "middle") for x in (near / 2, near, 1.0)),
            (top, f"{100 * top:g} %", "end"),
        ],
    }


def _toggles(view: dict[str, object]) -> list[tuple[str, str, bool]]:
    found: list[tuple[str, str, bool]] = [
        ("cut", word("Section cut"), False),
        ("sizes", word("Length"), True),
    ]
    if view["parts"]:
        found.insert(1, ("parts", word("Mating parts"), True))
    if view["marks"]:
        found.append(("names", word("Hook bending and torsion"), True))
    return found


def _stop(p: Stop, i: int, v: Values) -> tuple[str, str]:
    load = v.shown.quantity(q.force(p.load, 3))
    return repr(p.load), v.say("free") if i == 0 else f"{v.text(p.name)}, {load}"
