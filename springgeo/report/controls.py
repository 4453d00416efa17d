"""The 3-D view's own part of the page: canvas, legend, slider, buttons, and what stands in."""

from __future__ import annotations

from typing import Any

from springgeo.report.palette import colours
from springgeo.report.stroke import Stop, Stroke
from springgeo.report.value import escaped, number

_VIEWS = (("angle", "Angle"), ("side", "Side"), ("top", "Top"), ("end", "End A"))


def view_section(stroke: Stroke, view: dict[str, Any], picture: str) -> str:
    """Return the view with its controls; ``picture`` is the drawing that stands in for it."""
    remark = f"<p>{escaped(stroke.remark)}</p>" if stroke.remark else ""
    top = view["scale"]["von_mises"]
    ticks = "".join(f"<span>{number(k * top / 4, 3)}</span>" for k in range(5))
    lengths = "one length" if len(stroke.states) == 1 else f"{len(stroke.states)} lengths"
    moved = stroke.states[-1].length - stroke.states[0].length
    return (
        f'<div class="stage"><div id="view" class="js-only">{_canvas()}'
        f"{_legend('scale-name', 'scale-ticks', ticks)}</div>"
        f'<figure id="still" class="still">{picture}<figcaption>At {number(stroke.load, 3)} N and '
        f"{number(stroke.states[-1].length)} mm inside hooks, {number(moved)} mm longer than "
        f"free; end A to the left.{_legend('', '', ticks)}</figcaption></figure>"
        '<noscript><p class="note">The turning view needs JavaScript; the picture, the diagrams '
        "and every number below do without.</p></noscript>"
        '<p id="no-view" class="note" hidden>This browser draws no 3-D (WebGL is off); the picture '
        "stands in.</p>"
        f"{_controls(stroke, view)}</div>{remark}"
        f'<p class="small js-only">The shape is computed at {lengths} from the one centreline of '
        "the wire; between them the view moves every point along a straight line. The paint is the "
        "stress on the wire's surface, computed along the wire and round its section for one "
        "newton, times the load; coils that still press on each other keep the stress of the "
        "initial tension.</p>"
    )


def _canvas() -> str:
    return (
        '<div class="frame"><canvas id="canvas" tabindex="0" role="application" '
        'aria-label="The spring in 3-D, painted with stress" aria-roledescription="3-D view" '
        'aria-describedby="keys reading">'
        '</canvas><div id="tags" aria-hidden="true"></div></div>'
    )


def _legend(name: str, ticks_name: str, ticks: str) -> str:
    """Return the colour scale; the names are those the page's script looks for."""
    steps = colours()[::8]
    wide = 100 / len(steps)
    bars = "".join(
        f'<rect x="{i * wide:.3f}" y="0" width="{wide + 0.2:.3f}" height="10" fill="{c}"/>'
        for i, c in enumerate(steps)
    )
    ids = [f' id="{x}"' if x else "" for x in (name, ticks_name)]
    return (
        f'<div class="scale"><span{ids[0]}>von Mises stress, MPa</span>'
        '<svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">'
        f'{bars}</svg><div{ids[1]} class="ticks">{ticks}</div></div>'
    )


def _controls(stroke: Stroke, view: dict[str, Any]) -> str:
    stops = "".join(_stop(p, i) for i, p in enumerate(stroke.stops))
    kinds = "".join(
        f'<option value="{k}">{escaped(words)}</option>' for k, words in view["kinds"].items()
    )
    views = "".join(
        f'<button type="button" data-view="{k}">{words}</button>' for k, words in _VIEWS
    )
    toggles = "".join(
        f'<label><input type="checkbox" id="{k}"{" checked" if on else ""}> {words}</label>'
        for k, words, on in _toggles(bool(view["parts"]), bool(view["marks"]))
    )
    return (
        '<div id="controls" class="controls js-only"><div><div class="slide">'
        '<label for="load">Load</label>'
        '<input id="load" type="range" min="0" max="1000" value="1000" step="1">'
        '<button type="button" id="play" aria-pressed="false">Play</button></div>'
        '<output id="reading" for="load" aria-live="polite"></output>'
        f'<div class="row" role="group" aria-label="Working points">{stops}</div>'
        '<output id="probe" class="small">Point at the wire, or tap it, to read its stress.'
        "</output></div><div>"
        f'<div class="row"><label for="kind">Paint</label> <select id="kind">{kinds}</select> '
        f"{toggles}</div>"
        f'<div class="row" role="group" aria-label="Direction of view">{views}</div>'
        '<p id="keys" class="small">Drag to turn; click the view, then wheel or pinch to zoom. '
        "Keys in the view: arrows turn, + and − zoom, 0 resets, S cuts.</p></div></div>"
    )


def _toggles(parts: bool, marks: bool) -> list[tuple[str, str, bool]]:
    found = [("cut", "Section cut", False), ("sizes", "Length", True)]
    if parts:
        found.insert(1, ("parts", "Mating parts", True))
    if marks:
        found.append(("names", "A and B", True))
    return found


def _stop(p: Stop, i: int) -> str:
    title = "free" if i == 0 else f"{p.name}, {number(p.load, 3)} N"
    return f'<button type="button" data-load="{p.load!r}">{escaped(title)}</button>'
