"""The report's content: the view, the diagrams, the tables, in the order a reader asks."""

from __future__ import annotations

from typing import Any

import numpy as np
import yaml

from springgeo import colours
from springgeo.api import Spring
from springgeo.curve.frame import Array
from springgeo.fit import FitReport
from springgeo.picture import spring_svg
from springgeo.report import diagrams, tables
from springgeo.report.controls import view_section
from springgeo.report.document import document, json_of
from springgeo.report.fit_part import fit_part
from springgeo.report.html import Markup, render
from springgeo.report.paint import judged_share
from springgeo.report.stroke import Stroke, stroke_of
from springgeo.report.value import Values, number
from springgeo.report.view import view_data
from springgeo.report.words import glance, verdict
from springgeo.statics import WireStress
from springgeo.statics.regions import REGIONS
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire


def page(spring: Spring) -> str:
    """Return the report on a spring as one HTML document.

    Parameters
    ----------
    spring : Spring

    Raises
    ------
    SpecError
        The specification's lengths lie below the free length.
    """
    summary, stroke = spring.summary(), stroke_of(spring)
    unit = AlongWire(Handbook(spring.model)).unit
    # the named stops are always among the states; nothing more is shown
    fit = None if spring.spec.mating is None else spring.fit(states=2)
    data = summary.model_dump(mode="json")
    values = Values(data)
    view = view_data(spring, stroke, unit)
    line = {
        "free": spring.free_length,
        "rate": summary.along_the_wire.rate,
        "tension": summary.initial_tension.force,
    }
    body = _body(spring, stroke, unit, values, view, fit)
    return document(
        f"{summary.name}: extension spring report",
        body,
        {"summary": json_of(data), "view-data": json_of({**view, **line})},
    )


def _picture(spring: Spring, stroke: Stroke, unit: WireStress) -> str:
    """Return the spring at the end of its stroke, painted as the view is."""
    state = stroke.states[-1]
    tension = spring.summary().initial_tension.force
    body = unit.region == REGIONS.index("body")
    acting = np.where(body, max(stroke.load, tension), stroke.load)
    share = acting * judged_share(unit, Handbook(spring.model).allowable)
    stretch = spring.centreline.length / state.centreline.length

    def paint(s: Array) -> list[str]:
        values = np.interp(s * stretch, unit.s, share, left=0.0, right=0.0)
        return [colours.of_share(float(x)) for x in values]

    g = state.geometry
    title = f"{spring.spec.name} at {number(state.length)} mm inside hooks, first end to the left"
    return spring_svg(g.path, g.diameter, parts=g.parts, width=900, title=title, paint=paint)


def _body(
    spring: Spring,
    stroke: Stroke,
    unit: WireStress,
    v: Values,
    view: dict[str, Any],
    fit: FitReport | None,
) -> Markup:
    from springgeo import __version__

    s = spring.summary()
    load = s.points[-1].load if s.points else stroke.load
    cycle = s.fatigue and diagrams.fatigue(s) + tables.fatigue_table(s, v)
    return render(
        "page",
        s=s,
        v=v,
        last=len(s.points) - 1,
        verdict=verdict(s, fit),
        glance=glance(s, v),
        view=view_section(stroke, view, _picture(spring, stroke, unit)),
        findings=tables.findings_list(s.findings),
        load_length=diagrams.load_length(s, stroke),
        tension=diagrams.tension(s),
        stresses=diagrams.stresses(s, unit, load),
        peaks=tables.peaks_table(s, v),
        points=tables.points_table(s, v) if s.points else "",
        pull=tables.pull_table(s, v),
        fit="" if fit is None else fit_part(fit),
        cycle=cycle,
        facts=tables.key_facts(s, v),
        ways=tables.ways_table(s, v) + tables.compliance_table(s),
        checks=tables.checks_table(s),
        specification=yaml.safe_dump(s.specification, sort_keys=False, allow_unicode=True),
        version=__version__,
    )
