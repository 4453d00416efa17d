"""The answer of ``springgeo size`` as a page: the front to click, each choice's shape, why not."""

from __future__ import annotations

from itertools import combinations

from springgeo.api import Spring
from springgeo.chart.style import ink, series
from springgeo.report.document import asset, document, json_of
from springgeo.report.html import render
from springgeo.report.script_words import words_of
from springgeo.report.stroke import stroke_of
from springgeo.report.value import Values
from springgeo.report.view import view_data
from springgeo.results.facts import CAUTIONS
from springgeo.sizing.answer import report
from springgeo.sizing.answer.plot import AXES, MOST_POINTS
from springgeo.sizing.size import Result
from springgeo.text import quantity as q
from springgeo.text.json_value import Json
from springgeo.text.quantity import UNITS
from springgeo.text.shown import Shown, said, word

# facets of the choices' shapes, in wire diameters
_CHORD = 0.06
_OWN = "springgeo.comparing"
_TEXTS = {
    "along": word("A design along the front"),
    "choice": word("choice {number}: {words}"),
    "choices": word("Choices"),
    "reads": word("{load}, {length} inside hooks"),
    "design": word("{material}, d {wire}, index {index}: {costs}"),
    "better": word("{words} (less is better)"),
    "more": word("{words} (more is better)"),
}


def sizes_page(result: Result, shown: Shown) -> str:
    """Return the page.

    A choice is shown with its shape under the highest load; of any other design of the front its
    wire, index and what it costs. Where nothing fits, the page says in words what would have to
    give.
    """
    v = Values({}, shown)
    found = result.found
    data = words_of(v)
    data["texts"] |= {k: v.text(w) for k, w in _TEXTS.items()}
    data["units"] = {
        kind: {"factor": u[shown.units].factor, "offset": u[shown.units].offset}
        | {"sign": v.unit(kind)}
        for kind, u in UNITS.items()
    }
    data["choices"] = [_choice(result, i, v) for i in range(len(result.winners))]
    data["front"] = _front(result)
    data["objectives"] = [_objective(name, v) for name in found.job.objectives]
    table = report.rows(result.winners, v.shown)
    style = f":root {{ --choice: {ink(series(1)).light}; }}\n" + asset("compare.css", _OWN)
    return document(
        v.say("{name}: springs for a job", name=found.job.name),
        render(
            "sizes",
            _OWN,
            name=found.job.name,
            say=v.say,
            choices=[f"{i} {c['words']}" for i, c in enumerate(data["choices"], start=1)],
            head=table[0],
            rows=table[1:],
            pairs=list(combinations([o["words"] for o in data["objectives"]], 2)),
            why_not=_why_not(result, v),
            turned_away=[v.text(t) for t in result.turned_away],
            counted=v.say(
                "{looked} candidates, {front} on the front.",
                looked=found.looked_at,
                front=len(found.places),
            ),
            cautions=[v.text(t) for t in CAUTIONS],
        ),
        {"view-data": json_of(data)},
        shown.language,
        script=asset("plot.js", "springgeo.desk")
        + asset("dom.js", "springgeo.desk")
        + asset("sizes.js", _OWN),
        style=style + asset("desk.css", "springgeo.desk") + asset("sizes.css", _OWN),
    )


def _choice(result: Result, i: int, v: Values) -> dict[str, Json]:
    w = result.winners[i]
    spring = Spring.from_dict(w.specification)
    stroke = stroke_of(spring)
    return {
        "view": view_data(spring, stroke, v.shown, _CHORD),
        "costs": w.candidate.cost,
        # choices of one material and end are told apart by their wire
        "words": v.text(
            said(
                "{kind}, d {wire}",
                kind=report.rows([w], v.shown)[1][0].partition(" ")[2],
                wire=q.length(spring.model.body.wire_diameter, 4),
            )
        ),
        "file": f"choice-{i + 1}.yaml",
        "verdict": "" if w.summary.verdict is None else v.text(w.summary.verdict.words),
    }


def _front(result: Result) -> list[dict[str, Json]]:
    """Return the designs of the front, at most so many as a diagram can show."""
    found = result.found
    every = max(len(found.places) // MOST_POINTS, 1)
    return [
        {
            "material": found.wires.material[p.wire],
            "wire": float(found.wires.d[p.wire, 0]),
            "index": float(p.C),
            "costs": [float(f"{c:.6g}") for c in costs],
        }
        for p, costs in list(zip(found.places, found.costs.tolist(), strict=True))[::every]
    ]


def _objective(name: str, v: Values) -> dict[str, Json]:
    words, kind, more = AXES[name]
    return {"name": name, "words": v.text(words), "kind": kind, "more": more}


def _why_not(result: Result, v: Values) -> list[tuple[str, list[str]]]:
    """Return headings and what would have to give under each."""
    alone = [v.text(r.text) for r in result.why_not if r.alone]
    together = [v.text(r.text) for r in result.why_not if not r.alone]
    found = []
    if alone:
        found.append((v.say("Any one of these would be enough"), alone))
    if together:
        words = (
            v.say("Or all of these together, which is less")
            if alone
            else v.say("All of these would have to give")
        )
        found.append((words, together))
    return found
