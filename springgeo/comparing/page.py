"""The comparison as one offline page: a table, the load curves, the shapes through each other."""

from __future__ import annotations

from springgeo.chart import keys, svg
from springgeo.chart.style import ink, series
from springgeo.comparing.charts import load_lengths
from springgeo.comparing.model import GIVEN_IN, Comparison, Row
from springgeo.report.document import asset, document, json_of
from springgeo.report.html import Markup, render
from springgeo.report.script_words import words_of
from springgeo.report.stroke import stroke_of
from springgeo.report.value import Values
from springgeo.report.view import view_data
from springgeo.text.json_value import Json
from springgeo.text.shown import Shown, word

_MORE = {"each": word("{name}: {length}")}


def page(c: Comparison, shown: Shown) -> str:
    """Return the page; raises SpecError where a stroke cannot be shown."""
    v = Values({}, shown)
    inks = [series(i) for i in range(len(c.springs))]
    style = ":root { " + "".join(f"--{n}: {ink(n).light}; " for n in inks) + "}\n"
    data = words_of(v)
    data["texts"] |= {k: v.text(words) for k, words in _MORE.items()}
    data["springs"] = [_seen(c, i, v) for i in range(len(c.springs))]
    data["inks"] = inks
    chart = load_lengths(c).shown(v.shown)
    body = render(
        "page",
        "springgeo.comparing",
        say=v.say,
        names=list(enumerate(c.names)),
        inks=inks,
        given=[_row(r, v) for r in c.rows if r.given],
        follows=[_row(r, v) for r in c.rows if not r.given],
        given_in=GIVEN_IN,
        chart=Markup(svg.drawing(chart)),
        told=chart.told,
        keys=[(Markup(svg.key(k)), k.words) for k in keys(chart)],
        cautions=[v.text(t) for t in c.springs[0].summary().cautions],
    )
    own = "springgeo.comparing"
    title = v.say("{names}: springs compared", names=", ".join(c.names))
    return document(
        title,
        body,
        {"view-data": json_of(data)},
        v.shown.language,
        script=asset("compare.js", own),
        style=style + asset("compare.css", own),
    )


def _seen(c: Comparison, i: int, v: Values) -> dict[str, Json]:
    spring = c.springs[i]
    stroke = stroke_of(spring)
    data = view_data(spring, stroke, v.shown) | words_of(v)
    data["curve"] = stroke.curve(spring.summary())
    return data | {"name": c.names[i]}


def _row(r: Row, v: Values) -> dict[str, Json]:
    unit = v.unit(r.kind) if r.kind else ""
    words = v.text(r.words)
    head = f"{words}, {unit}" if unit else words
    return {"words": head, "differs": r.differs, "values": r.shown(v.shown)}
