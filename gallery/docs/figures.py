"""The figures of the documentation, from the springs they show."""

from __future__ import annotations

import springgeo as sg
from springgeo.ends import registry
from springgeo.note.figures import diagram
from springgeo.plots.end_drawing import end_drawing
from springgeo.plots.fatigue import chart as fatigue_chart
from springgeo.plots.load_length import chart as load_chart
from springgeo.plots.stress_along_wire import Stresses


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
    for style in styles():
        found[f"end-{style}.svg"] = end_drawing(style)
    return found


def styles() -> list[str]:
    """Return the styles that can be drawn by themselves."""
    return [name for name in registry.names() if registry.get(name).offered]
