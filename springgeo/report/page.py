"""The report's content: the view, the diagrams, the tables, in the order a reader asks."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from springgeo import colours
from springgeo.computed import ComputedSpring
from springgeo.curve.frame import Array
from springgeo.fit import FitReport
from springgeo.picture import spring_svg
from springgeo.report import diagrams, tables
from springgeo.report.controls import view_section
from springgeo.report.document import Sign, document, json_of
from springgeo.report.ends import ends_part
from springgeo.report.fit_part import fit_part
from springgeo.report.glance import glance, verdict
from springgeo.report.html import Markup, render
from springgeo.report.overload import overload_table
from springgeo.report.paint import judged_share
from springgeo.report.script_words import words_of
from springgeo.report.stroke import Stroke, stroke_of
from springgeo.report.value import Values
from springgeo.report.view import view_data
from springgeo.statics import WireStress
from springgeo.summary.verdict import WAY_WORDS, way_words
from springgeo.text import quantity as q
from springgeo.text.shown import Shown
from springgeo.version import __version__


def page(spring: ComputedSpring, shown: Shown | None = None, sign: Sign | None = None) -> str:
    """Return the report on a spring as one HTML document.

    Parameters
    ----------
    spring : Spring
    shown : Shown, optional
        The reader's units and language; those of the specification if left out.
    sign : Sign, optional
        By which an open page sees that it was written again.

    Raises
    ------
    SpecError
        The specification's lengths lie below the free length.
    """
    summary, stroke = spring.summary(), stroke_of(spring)
    # the named stops are always among the states; nothing more is shown
    fit = None if spring.spec.mating is None else spring.fit(states=2)
    data = summary.model_dump(mode="json")
    values = Values(data, spring.shown if shown is None else shown)
    view = view_data(spring, stroke, values.shown) | words_of(values)
    line = {
        "free": spring.free_length,
        "curve": stroke.curve(summary),
        "coils": 0.0 if summary.contact is None else summary.contact.coils,
    }
    body = _body(spring, stroke, values, view, fit)
    return document(
        values.say("{name}: extension spring report", name=summary.name),
        body,
        {"summary": json_of(data), "view-data": json_of({**view, **line})},
        values.shown.language,
        sign=sign,
    )


def _picture(spring: ComputedSpring, stroke: Stroke, v: Values) -> str:
    """Return the spring at the end of its stroke, painted as the view is."""
    state = stroke.states[-1]
    wire = state.wire.at(state.load)
    share = judged_share(wire, spring.along_the_wire.book.allowable)
    stretch = spring.centreline.length / state.centreline.length

    def paint(s: Array) -> list[str]:
        values = np.interp(s * stretch, wire.s, share, left=0.0, right=0.0)
        return [colours.of_share(float(x)) for x in values]

    g = state.geometry
    title = v.say(
        "{name} at {length} inside hooks, first end to the left",
        name=spring.spec.name,
        length=q.length(state.length, 4),
    )
    return spring_svg(g.path, g.wire_diameter, parts=g.parts, width=900, title=title, paint=paint)


class _Highest(NamedTuple):
    """The wire under the highest load, where the summary has that, and whether as mounted."""

    wire: WireStress
    path: str
    as_mounted: bool


def _highest(spring: ComputedSpring, stroke: Stroke) -> _Highest:
    """Return the wire under the highest load, by the way of the verdict.

    Where no load is given it is that at the end of the stroke.
    """
    s, last = spring.summary(), stroke.states[-1]
    if not s.points:
        return _Highest(last.wire.at(last.load), "", stroke.as_mounted)
    if s.verdict is not None and s.verdict.as_mounted:
        i = len(s.mounted) - 1
        return _Highest(last.wire.at(s.mounted[i].load), f"mounted.{i}", as_mounted=True)
    i = len(s.points) - 1
    wire = spring.along_the_wire.at(s.points[i].load)
    return _Highest(wire, f"along_the_wire.points.{i}", as_mounted=False)


def _body(
    spring: ComputedSpring,
    stroke: Stroke,
    v: Values,
    view: dict[str, object],
    fit: FitReport | None,
) -> Markup:
    s = spring.summary()
    at = _highest(spring, stroke)
    cycle = s.fatigue and diagrams.fatigue(s, v.shown) + tables.fatigue_table(s, v)
    return render(
        "page",
        s=s,
        v=v,
        at=at,
        say=v.say,
        text=v.text,
        html=v.html,
        ways_words=WAY_WORDS,
        way_words=way_words,
        verdict=verdict(s, v, fit),
        glance=glance(s, v),
        view=view_section(stroke, view, _picture(spring, stroke, v), v),
        findings=tables.findings_list(s.findings, v),
        load_length=diagrams.load_length(s, stroke, v.shown),
        tension=diagrams.tension(s, v.shown),
        stresses=diagrams.stresses(s, at.wire, v.shown),
        peaks=tables.peaks_table(s, v),
        points=tables.points_table(s, v) if s.points else "",
        pull=tables.pull_table(s, v) + overload_table(s, v),
        fit="" if fit is None else fit_part(fit, v),
        cycle=cycle,
        ends=ends_part(spring, v),
        facts=tables.key_facts(s, v),
        ways=tables.ways_table(s, v) + tables.compliance_table(s, v),
        checks=tables.checks_table(s, v),
        specification=spring.specification_text,
        units=", ".join(v.unit(k) for k in ("length", "force", "stress", "rate")),
        version=__version__,
    )
