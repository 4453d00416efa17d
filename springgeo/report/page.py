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
from springgeo.report.paint import judged_share
from springgeo.report.stroke import Stroke, stroke_of
from springgeo.report.value import Values, escaped, number
from springgeo.report.view import view_data
from springgeo.report.words import glance, verdict
from springgeo.statics import WireStress
from springgeo.statics.regions import REGIONS
from springgeo.summary import Summary
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
    body = "\n".join(
        [
            _header(summary, values, fit),
            '<main id="main">',
            _section(
                "the-spring",
                "The spring in its states",
                view_section(stroke, view, _picture(spring, stroke, unit)),
            ),
            *_sections(summary, stroke, unit, values, fit),
            "</main>",
            _footer(summary),
        ]
    )
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


def _sections(
    s: Summary, stroke: Stroke, unit: WireStress, v: Values, fit: FitReport | None
) -> list[str]:
    load = s.points[-1].load if s.points else stroke.load
    found = [
        _section("findings", "Findings in plain words", tables.findings_list(s.findings)),
        '<div class="pair">',
        _section(
            "load-over-length",
            "Load over length",
            diagrams.load_length(s, stroke),
        ),
        _section("tension", "Initial tension", diagrams.tension(s)),
        "</div>",
        _section(
            "stress",
            "Stress along the wire",
            _stress(s, v) + diagrams.stresses(s, unit, load) + tables.peaks_table(s, v),
        ),
    ]
    if s.points:
        found.append(_section("compare", "Handbook and along the wire", tables.points_table(s, v)))
    if fit is not None:
        found.append(_section("fit", "Fit with the mating parts", fit_part(fit)))
    if s.fatigue is not None:
        found.append(_section("fatigue", "Fatigue", _fatigue(s, v)))
    found += [
        '<div class="pair">',
        _section("facts", "Dimensions and properties", tables.key_facts(s, v)),
        _section(
            "ways",
            "Several ways to one number",
            tables.ways_table(s, v) + tables.compliance_table(s),
        ),
        "</div>",
        _section("checks", "Checks", tables.checks_table(s)),
        _section("specification", "The specification", _specification(s)),
        _section("cautions", "Cautions", tables.cautions_list(s)),
    ]
    return found


def _section(name: str, title: str, content: str) -> str:
    return (
        f'<section id="{name}" aria-labelledby="{name}-h"><h2 id="{name}-h">{title}</h2>'
        f"{content}</section>"
    )


def _header(s: Summary, v: Values, fit: FitReport | None) -> str:
    kind, words = verdict(s, fit)
    return (
        '<a class="skip" href="#main">To the report</a>'
        '<header><div class="bar"><p class="kicker">Extension spring report</p>'
        '<button id="theme" type="button" class="js-only">Dark</button></div>'
        f"<h1>{escaped(s.name)}</h1><p>{escaped(s.material.title)}</p>"
        f'<p class="verdict {kind}">{words}</p>{glance(s, v)}</header>'
    )


def _stress(s: Summary, v: Values) -> str:
    if not s.points:
        return "<p>At the load where the first stress reaches its allowable.</p>"
    last = len(s.points) - 1
    return (
        f"<p>At the highest load, {v(f'points.{last}.load', 'N')}. Each curve is the greatest "
        "stress round the wire's section there. Von Mises at its greatest: "
        f"{v(f'along_the_wire.points.{last}.von_mises', 'MPa', 3)}.</p>"
    )


def _fatigue(s: Summary, v: Values) -> str:
    assert s.fatigue is not None
    cycles = v("fatigue.cycles", "cycles", 3) if s.fatigue.cycles else "infinite life"
    words = f"<p>From {v('fatigue.load_low', 'N')} to {v('fatigue.load_high', 'N')}, {cycles}. "
    if s.fatigue.margin is not None:
        place = "" if s.fatigue.place is None else f": {s.fatigue.place.words}, {s.fatigue.way}"
        words += f"Least factor {v('fatigue.margin', places=2)}{escaped(place)}. "
    words += f"Method: {escaped(s.fatigue.method)}.</p>"
    return words + diagrams.fatigue(s) + tables.fatigue_table(s, v)


def _specification(s: Summary) -> str:
    data: dict[str, Any] = s.specification
    text = yaml.safe_dump(data, sort_keys=False, allow_unicode=True)
    return (
        "<p>Bare numbers are mm, N, MPa, °C. Saved as a YAML file it gives this spring again.</p>"
        '<p class="js-only"><button type="button" data-copy="spec-text">Copy the specification'
        '</button> <button type="button" data-copy="summary">Copy the summary (JSON)</button> '
        '<output id="copied" role="status"></output></p>'
        f'<pre id="spec-text" tabindex="0" aria-label="Specification in YAML">{escaped(text)}</pre>'
    )


def _footer(s: Summary) -> str:
    from springgeo import __version__

    return (
        f"<footer><p>Made by springgeo {__version__}; summary {escaped(s.schema_version)}, digest "
        f"{s.digest()}. Units: mm, N, MPa, N/mm.</p></footer>"
    )
