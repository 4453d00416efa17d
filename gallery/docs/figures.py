"""The figures of the documentation, from the springs they show."""

from __future__ import annotations

import numpy as np
from field_figures import field_figures
from theory_figures import theory_figures

import springgeo as sg
from springgeo.chart.element import element, escaped
from springgeo.colours import WIRE
from springgeo.ends import registry
from springgeo.note.figures import diagram
from springgeo.picture.parts import View
from springgeo.picture.svg import spring_svg
from springgeo.plots.end_drawing import end_drawing
from springgeo.plots.fatigue import chart as fatigue_chart
from springgeo.plots.load_length import chart as load_chart
from springgeo.plots.stress_along_wire import Stresses
from springgeo.text.shown import Shown


def figures() -> dict[str, str]:
    """Return every figure as SVG by its file's name."""
    spring = sg.Spring.from_preset("gate-latch")
    s, shown = spring.summary(), spring.shown_in(typeset=True)
    wire = spring.along_the_wire.at(s.points[-1].load)
    charts = {
        "load-length": load_chart(s),
        "stress": Stresses(s, wire).whole(),
        "fatigue-shear": fatigue_chart(s, False),
    }
    found = {f"{name}.svg": diagram(chart, "", shown).svg for name, chart in charts.items()}
    found["spring.svg"] = spring.picture(720)
    found["section.svg"] = section(shown)
    found |= theory_figures(spring, shown)
    found |= field_figures(spring, shown)
    for style in styles():
        found[f"end-{style}.svg"] = end_drawing(style)
    return found


def section(shown: Shown) -> str:
    """Return a half loop with the line of pull, and what two of its sections bear under 10 N."""
    ends = {"first": {"style": "machine-half-loop"}, "second": {"style": "plain"}}
    wire = {"material": "astm-a228", "diameter": 2.0}
    spring = sg.Spring.from_dict(
        {"wire": wire, "body": {"index": 7.0, "coils": 2.75}, "ends": ends}
    )
    bears, path, d = spring.along_the_wire.at(10.0), spring.centreline, 2.0
    axis = spring.model.geometry.contacts

    def over(view: View) -> str:
        (u1, v), (u2, _) = view.paper(np.array([axis[0], axis[0] + [0.0, 0.0, 30.0]]))
        dash = {"stroke": WIRE.edge, "stroke_dasharray": "8 4 2 4", "fill": "none"}
        made = [element("path", d=f"M{u1 - 40:.1f} {v:.1f}H{u2:.1f}", **dash)]
        made.append(_words(u1 - 44, v + 5, "F = 10 N", "end"))
        for region, down in (("A", 2.7), ("B", 1.6)):
            s = bears.peaks[region].von_mises.s
            k = int(np.argmin(np.abs(bears.s - s)))
            p = path.point(np.array([s]))[0]
            (u, w), (_, foot) = view.paper(np.array([p, [0.0, 0.0, p[2]]]))
            arm = shown.length(float(np.hypot(p[0], p[1])), 3)
            made.append(element("path", d=f"M{u:.1f} {w:.1f}V{foot:.1f}", stroke=WIRE.edge))
            made.append(element("circle", cx=u, cy=w, r=4, fill=WIRE.edge))
            bent = float(np.hypot(bears.forces.M_n[k], bears.forces.M_b[k]))
            turned = abs(float(bears.forces.T[k]))
            # the pull times its arm is all that a section is bent and turned by
            assert abs(np.hypot(bent, turned) - 10.0 * np.hypot(p[0], p[1])) < 1.0
            told = f"{region}: arm {arm}, M = {bent:.3g} N mm, T = {turned:.3g} N mm"
            low = w + down * d * view.scale
            line = f"M{u:.1f} {w:.1f}L{u + 16:.1f} {low:.1f}"
            made.append(element("path", d=line, stroke=WIRE.edge))
            made.append(_words(u + 20, low + 5, told, "start"))
        return element("g", *made, font_family="Georgia, serif", font_size="14", fill=WIRE.edge)

    return spring_svg(
        path, d, width=720, turn=0.0, title="a section and its arm", edge=5 * d, over=over
    )


def _words(x: float, y: float, text: str, anchor: str) -> str:
    halo = {"paint_order": "stroke", "stroke": "white", "stroke_width": 4}
    return element("text", escaped(text), x=f"{x:.1f}", y=f"{y:.1f}", text_anchor=anchor, **halo)


def styles() -> list[str]:
    """Return the styles that can be drawn by themselves."""
    return [name for name in registry.names() if registry.get(name).offered]
