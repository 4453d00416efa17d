"""The pictures of a specification's fields: a body, the ends along the axis, clearances."""

from __future__ import annotations

import numpy as np

import springgeo as sg
from springgeo.chart.element import element, escaped
from springgeo.chart.element import path as way
from springgeo.colours import INKS, WIRE
from springgeo.fit.plot import fit_chart
from springgeo.note.figures import diagram
from springgeo.picture.parts import View
from springgeo.picture.svg import spring_svg
from springgeo.text.shown import Shown

_THIN = {"stroke": INKS["ink"].light, "stroke_width": "1.1", "fill": "none"}
_LETTERS = {"font_family": "Georgia, serif", "font_size": "17", "fill": WIRE.edge}


def field_figures(spring: sg.Spring, shown: Shown) -> dict[str, str]:
    """Return them as SVG by their file's name; ``spring`` has mating parts."""
    return {
        "spec-body.svg": body(),
        "spec-ends.svg": ends(),
        "spec-mating.svg": diagram(fit_chart(spring.fit(states=7)), "", shown).svg,
    }


def _spring(body: dict[str, float], second: str, angle: float | None = None) -> sg.Spring:
    ends = {"first": {"style": "machine-half-loop"}, "second": {"style": second}}
    wire = {"material": "astm-a228", "diameter": 2.0}
    return sg.Spring.from_dict(
        {"wire": wire, "body": body, "ends": ends if angle is None else {**ends, "angle": angle}}
    )


def body() -> str:
    """Return an open spring with the letters of its dimensions."""
    spring = _spring({"mean_diameter": 14.0, "coils": 5.0, "gap": 2.2}, "machine-half-loop")
    g, d, r = spring.model.geometry, 2.0, 7.0
    face, far = g.first.hook_length, g.height - g.second.hook_length

    def over(view: View) -> str:
        made = []
        for x, half, text in (
            (g.height + 1.5 * d, r - d / 2, "Di"),
            (g.height + 3.0 * d, r, "D"),
            (g.height + 4.5 * d, r + d / 2, "De"),
        ):
            made += _upright(view, far - d / 2, x, half, text)
        made += _level(view, 0.0, g.length, r + 3.6 * d, "L0")
        made += _level(view, 0.0, face, r + 1.9 * d, "LH")
        # where the wire is cut twice by the plane of the drawing, one turn apart
        low, high = ([p for p in _crossings(spring, x) if face < p < far] for x in (1.0, -1.0))
        made += _level(view, low[1], low[2], r + 1.9 * d, "p")
        first, next_ = high[1], high[2]
        made += _level(view, first + d / 2, next_ - d / 2, -r - 1.9 * d, "g")
        made += _level(view, high[0] - d / 2, high[0] + d / 2, -r - 1.9 * d, "d")
        return element("g", *made, **_LETTERS)

    return spring_svg(
        spring.centreline,
        d,
        width=620,
        turn=0.0,
        title="a body and its letters",
        edge=5.4 * d,
        over=over,
    )


def _crossings(spring: sg.Spring, side: float) -> list[float]:
    """Return where along the axis the wire is furthest from it on a side of the drawing."""
    s = np.linspace(0.0, spring.centreline.length, 4000)
    points = spring.centreline.point(s)
    x = side * points[:, 0]
    top = (x[1:-1] > x[:-2]) & (x[1:-1] >= x[2:]) & (x[1:-1] > 6.9)
    return sorted(points[1:-1][top, 2].tolist())


def _level(view: View, start: float, end: float, x: float, text: str) -> list[str]:
    (u1, v), (u2, _) = view.paper(np.array([[x, 0.0, start], [x, 0.0, end]]))
    _, foot = view.paper(np.array([[np.copysign(6.0, x), 0.0, start]]))[0]
    ends = "".join(f"M{u:.1f} {v:.1f}V{foot:.1f}" for u in (u1, u2))
    up = 19 if v > foot else -7
    return [
        element("path", d=f"M{u1:.1f} {v:.1f}H{u2:.1f}{ends}", **_THIN),
        _words((u1 + u2) / 2, v + up, text),
    ]


def _upright(view: View, start: float, z: float, half: float, text: str) -> list[str]:
    (u, v1), (_, v2) = view.paper(np.array([[half, 0.0, z], [-half, 0.0, z]]))
    (left, _), _ = view.paper(np.array([[half, 0.0, start], [half, 0.0, z]]))
    ends = "".join(f"M{left:.1f} {v:.1f}H{u + 4:.1f}" for v in (v1, v2))
    return [
        element("path", d=f"M{u:.1f} {v1:.1f}V{v2:.1f}{ends}", **_THIN | {"stroke_opacity": "0.7"}),
        _words(u, max(v1, v2) + 19, text),
    ]


def ends() -> str:
    """Return both loops seen along the axis, with the angle from the first to the second."""
    angle = 60.0
    spring = _spring({"mean_diameter": 14.0, "coils": 4.0}, "machine-half-loop", angle)
    wide, middle, scale = 420.0, 150.0, 13.0

    def flat(points: np.ndarray) -> np.ndarray:
        return np.column_stack([wide / 2 + scale * points[:, 0], middle - scale * points[:, 1]])

    made = []
    for role, colour in (("body", INKS["rule"]), ("", INKS["shear"]), ("", INKS["bending"])):
        side = "second." if colour is INKS["bending"] else "first."
        for piece, start in spring.centreline:
            if (piece.role == "body") if role else piece.label.startswith(side):
                s = start + np.linspace(0.0, piece.segment.length, 160)
                line = way(flat(spring.centreline.point(s)))
                made.append(
                    element("path", d=line, stroke=colour.light, stroke_width=22, fill="none")
                )
    turn = np.radians(np.linspace(0.0, angle, 40))
    arc = np.column_stack([9.2 * np.cos(turn), 9.2 * np.sin(turn), 0 * turn])
    for at in (0.0, np.radians(angle)):
        reach = np.array([[-10.5, 0.0, 0.0], [10.5, 0.0, 0.0]])
        c, s_ = np.cos(at), np.sin(at)
        rays = flat(reach @ np.array([[c, s_, 0.0], [-s_, c, 0.0], [0.0, 0.0, 1.0]]))
        made.append(element("path", d=way(rays), **_THIN, stroke_dasharray="9 4 2 4"))
    made.append(element("path", d=way(flat(arc)), **_THIN))
    made.append(_words(float(flat(arc)[20, 0]) + 32, float(flat(arc)[20, 1]), "angle"))
    made.append(_words(wide - 46, middle + 22, "first loop"))
    made.append(_words(wide / 2 + 100, 16, "second loop"))
    return element(
        "svg",
        element("title", "the angle between the loop planes"),
        element("g", *made, **_LETTERS),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {wide:g} {2 * middle:g}",
        width=f"{wide:g}",
        height=f"{2 * middle:g}",
    )


def _words(x: float, y: float, text: str) -> str:
    halo = {"paint_order": "stroke", "stroke": INKS["card"].light, "stroke_width": 4}
    return element("text", escaped(text), x=f"{x:.1f}", y=f"{y:.1f}", text_anchor="middle", **halo)
