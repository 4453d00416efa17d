"""The 3-D view's own part of the page: canvas, legend, slider, buttons, and what stands in."""

from __future__ import annotations

from typing import Any

from springgeo import colours
from springgeo.report.stroke import Stop, Stroke
from springgeo.report.value import escaped, number

_VIEWS = (("angle", "Angle"), ("side", "Side"), ("top", "Top"), ("end", "First end"))


def view_section(stroke: Stroke, view: dict[str, Any], picture: str) -> str:
    """Return the view with its controls; ``picture`` is the drawing that stands in for it."""
    remark = f"<p>{escaped(stroke.remark)}</p>" if stroke.remark else ""
    lengths = "one length" if len(stroke.states) == 1 else f"{len(stroke.states)} lengths"
    moved = stroke.states[-1].length - stroke.states[0].length
    return (
        f'<div class="stage"><div id="view" class="js-only">{_canvas()}'
        f"{_legend()}</div>"
        f'<figure id="still" class="still">{picture}<figcaption>At {number(stroke.load, 3)} N and '
        f"{number(stroke.states[-1].length)} mm inside hooks, {number(moved)} mm longer than "
        f"free; first end to the left.{_legend()}</figcaption></figure>"
        '<noscript><p class="note">The turning view needs JavaScript; the picture, the diagrams '
        "and every number below do without.</p></noscript>"
        '<p id="no-view" class="note" hidden>This browser draws no 3-D (it has no '
        "WebGL 2); the picture stands in.</p>"
        f"{_controls(stroke, view)}</div>{remark}"
        f'<p class="small js-only">The shape is computed at {lengths} from the one centreline of '
        "the wire; between them the view moves every point along a straight line. The paint is the "
        "stress on the wire's surface as a share of its allowable, computed along the wire and "
        "round its section for one newton, times the load: shear in the body, bending in the "
        "loops, the greater share of both in the wire between. Coils that press on each other keep "
        "the stress of the initial tension.</p>"
    )


def _canvas() -> str:
    return (
        '<div class="frame"><canvas id="canvas" tabindex="0" role="application" '
        'aria-label="The spring in 3-D, painted with stress" aria-roledescription="3-D view" '
        'aria-describedby="keys reading">'
        '</canvas><div id="tags" aria-hidden="true"></div></div>'
    )


def _legend() -> str:
    """Return the colour scale: colours over the share of the allowable, and its three words."""
    top, ramp = colours.TOP, colours.ramp()[::2]
    wide = 100 / len(ramp)
    bars = "".join(
        f'<rect x="{i * wide:.3f}" y="0" width="{wide + 0.2:.3f}" height="10" fill="{c}"/>'
        for i, c in enumerate(ramp)
    )
    near = colours.NEAR
    words = "".join(
        _letters((a + b) / 2, word, "middle")
        for word, a, b in zip(colours.WORDS, (0.0, near, 1.0), (near, 1.0, top), strict=True)
    )
    ticks = "".join(_letters(x, f"{100 * x:g}", "middle") for x in (0.4, near, 1.0))
    ticks = _letters(0.0, "0", "start") + ticks + _letters(top, f"{100 * top:g} %", "end")
    told = f"within below {100 * near:g} %, near up to 100 %, over above"
    return (
        '<div class="scale"><span>Stress as a share of its allowable</span>'
        f'<svg class="words" role="img" aria-label="{told}">{words}</svg>'
        '<svg class="ramp" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">'
        f'{bars}</svg><svg class="words" aria-hidden="true">{ticks}</svg></div>'
    )


def _letters(share: float, text: str, anchor: str) -> str:
    return f'<text x="{100 * share / colours.TOP:.1f}%" y="12" text-anchor="{anchor}">{text}</text>'


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
        found.append(("names", "Hook bending and torsion", True))
    return found


def _stop(p: Stop, i: int) -> str:
    title = "free" if i == 0 else f"{p.name}, {number(p.load, 3)} N"
    return f'<button type="button" data-load="{p.load!r}">{escaped(title)}</button>'
