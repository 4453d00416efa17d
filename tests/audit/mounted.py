"""What every output says of one spring that is not pulled straight where it is mounted.

Summary, terminal, page, sheet, note, STEP file, desk and fit are read as a reader does: one
quantity has one number in all of them, and the verdict, the stop and the factor are the least.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from springgeo import Spring, SpringgeoError, Summary
from springgeo.cli.table import report as terminal
from springgeo.desk.numbers import whole
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Sheet
from springgeo.ends import registry
from springgeo.files.step.spring import attributes_of, description
from springgeo.fit import FitReport
from springgeo.note import note
from springgeo.note.markdown import markdown
from springgeo.report import page as written
from springgeo.summary.handbook import Handbook
from springgeo.text.shown import PLAIN
from tests.stability.mountings import mating
from tests.stability.wild import Random

from .compared import Compared
from .drawn import drawn
from .page import _figures, _script

# half a unit of the third or fourth digit, as texts round
_READ, _NEAR = 6e-3, 1e-7


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Mount one spring anyhow, and read all that is told of it."""
    styles = [x for x in registry.names() if x not in ("plain", "traced")]
    data = drawn(rng, styles=styles, coils=10)
    data["units"] = "mm"
    data.get("service", {}).pop("overload", None)
    bare = Spring.from_dict(data)
    mean = bare.model.geometry.coil_radius * 2
    how = mating(rng, mean)
    if rng.random() < 0.3:
        # where it may be slack pulled straight, or be pushed
        given = data["service"]
        given["lengths"] = [*given.get("lengths", ()), bare.free_length * rng.uniform(0.97, 1.02)]
    if rng.random() < 0.2:
        how["over_travel"] = float(rng.uniform(0.01, 0.2)) * bare.free_length
    try:
        spring = Spring.from_dict(data | {"mating": how})
        s = spring.summary()
        fit = spring.fit(states=2)
    except SpringgeoError:  # not every mounting is reached
        return
    if not s.mounted:
        return
    _least(told, spring, s)
    _fit(told, spring, s, fit)
    _terminal(told, s)
    _page(told, spring, s, fit)
    _sheet(told, spring, s)
    _note(told, spring, s)
    _step(told, s)
    _desk(told, spring, s, fit)


def _values(margin: Any) -> list[float]:
    return [x for x in margin.model_dump().values() if x is not None]


def _least(told: Compared, spring: Spring, s: Summary) -> None:
    """The verdict, the stop and the fatigue factor are the least of all that is told."""
    book, v = Handbook(spring.model), s.verdict
    assert v is not None
    there = [(p, book.point(abs(p.load), p.length)) for p in s.mounted]
    points = [*s.points, *s.along_the_wire.points, *(x for pair in there for x in pair)]
    margins = [m for p in points for m in _values(p.margin)]
    told.number("mounted: least margin", v.margin, min(margins), _NEAR)
    told.same("mounted: verdict fails", v.margin < 1 or _tired(s), v.outcome == "fails")
    stop = s.pull.mounted
    assert stop is not None
    told.same("mounted: stop not above the straight", stop.load <= s.pull.travel_stop_load, True)
    told.number("mounted: spring.travel_stop", spring.travel_stop(), stop.length, _NEAR)
    if stop.load > 0:
        (at,) = spring.mounted(loads=[stop.load])
        told.number("mounted: length at the stop", at.length, stop.length, 1e-6)
        # of neither rule more is answered
        wires = [x.stressed(stop.load).margin for x in (at.wire, spring.along_the_wire)]
        by_book = book.point(stop.load, stop.length).margin
        every = [m for margin in (*wires, by_book) for m in _values(margin)]
        told.number("mounted: margin at the stop", min(every), 1.0, 1e-5)
    top = s.mounted[-1].load
    over = top > stop.load * (1 + 1e-6)
    if over:
        told.same("mounted: beyond the stop it does not hold", v.margin < 1, True)
    if s.fatigue is not None:
        f = s.fatigue
        ways = (f.handbook, f.along_the_wire, f.mounted, f.mounted_handbook)
        factors = [p.factor for w in ways for p in w.values() if p.factor is not None]
        told.number("mounted: least factor", f.margin, min(factors, default=None), _NEAR)
    for p, lean in zip(s.mounted, s.lean, strict=True):
        told.number("mounted: load of a lean", lean.load, p.load, _NEAR)


def _tired(s: Summary) -> bool:
    return s.fatigue is not None and s.fatigue.margin is not None and s.fatigue.margin < 1


def _fit(told: Compared, spring: Spring, s: Summary, fit: FitReport) -> None:
    assert s.pull.mounted is not None
    told.number("fit: safe length", fit.safe_length, s.pull.mounted.length, _NEAR)
    at = {x.stop: x for x in fit.states}
    lengths = [p.length for p in s.mounted]
    if "max" in at:
        told.number("fit: longest", at["max"].length, max(lengths), _NEAR)
        i = lengths.index(max(lengths))
        told.number("fit: load at the longest", at["max"].load, s.mounted[i].load, 1e-5)


def _numbers(text: str) -> list[float]:
    return [float(x) for x in re.findall(r"-?\d+(?:\.\d+)?(?:e[+-]?\d+)?", text)]


def _terminal(told: Compared, s: Summary) -> None:
    lines = list(terminal(s))
    assert s.verdict is not None
    assert s.pull.mounted is not None
    told.same("terminal: verdict", f"verdict: {s.verdict.words}" in lines, True)
    (stop,) = (x for x in lines if x.startswith("travel stop as mounted: at "))
    length, load = _numbers(stop)
    told.number("terminal: stop", length, s.pull.mounted.length, _READ)
    told.number("terminal: load at the stop", load, s.pull.mounted.load, _READ, of=1e-9)
    rows = [x for x in lines if x.strip().startswith("as mounted ")]
    told.same("terminal: rows as mounted", len(rows), len(s.mounted))
    for row, p in zip(rows, s.mounted, strict=True):
        load, length = _numbers(row)[:2]
        told.number("terminal: load as mounted", load, p.load, _READ)
        told.number("terminal: length as mounted", length, p.length, _READ)
    if s.fatigue is not None and s.fatigue.margin is not None:
        (line,) = (x for x in lines if x.startswith("fatigue: "))
        factor = _numbers(line[line.index("least factor") :])[0]
        told.number("terminal: fatigue factor", factor, s.fatigue.margin, 0.0051, of=1.0)
        told.same("terminal: as mounted", ", as mounted" in line, s.fatigue.as_mounted)


def _page(told: Compared, spring: Spring, s: Summary, fit: FitReport) -> None:
    text = written(spring)
    summary = json.loads(s.json_text(None))
    told.same("page: embedded summary", json.loads(_script(text, "summary")), summary)
    _figures(told, text, summary, "en")
    top = text[(start := text.index('<p class="verdict')) : text.index("</p>", start)]
    warned = sum(f.severity != "note" for f in (*s.findings, *fit.findings))
    told.same("page: no warnings at the top", "No warnings" in top, not warned)
    kind = {"fails": "bad", "not judged": "care", "holds": "care" if warned else "good"}
    assert s.verdict is not None
    shown = "bad" if not fit.ok else kind[s.verdict.outcome]
    told.same("page: colour of the verdict", f'"verdict {shown}"' in top, True)
    view = json.loads(_script(text, "view-data"))
    named = [(x["load"], x["length"]) for x in view["stops"] if re.match(r"F\d+$", x["name"])]
    points = [(p.load, p.length) for p in s.mounted]
    told.same("page: stops", set(named) <= set(points), True)
    told.same("page: last stop", max(named)[0], max(points)[0])
    for stop in view["stops"][1:]:
        i = min(range(len(view["loads"])), key=lambda k: abs(view["loads"][k] - stop["load"]))
        told.number("page: state of a stop", view["states"][i], stop["length"], 1e-6)


def _sheet(told: Compared, spring: Spring, s: Summary) -> None:
    rows = {r.quantity: r.value for r in data_rows(Sheet(spring.model, s, "metric"))}
    assert s.pull.mounted is not None
    assert s.verdict is not None
    length, load = _numbers(rows["never drawn beyond"])
    told.number("sheet: never drawn beyond", length, s.pull.mounted.length, _READ)
    told.number("sheet: load there", load, s.pull.mounted.load, _READ, of=1e-9)
    margin = _numbers(rows["least margin"])[0]
    told.number("sheet: least margin", margin, s.verdict.margin, 0.0051, of=1.0)
    told.same("sheet: as mounted", "as mounted" in rows["least margin"], s.verdict.as_mounted)


def _note(told: Compared, spring: Spring, s: Summary) -> None:
    text = markdown(note(spring, PLAIN))
    assert s.pull.mounted is not None
    (stop,) = re.findall(r"Provide a travel stop at ([^*]*?): as it is mounted", text)
    length, load = _numbers(stop)
    told.number("note: stop", length, s.pull.mounted.length, _READ)
    told.number("note: load at the stop", load, s.pull.mounted.load, _READ, of=1e-9)
    cells = [[c.strip() for c in x.split("|")[1:-1]] for x in text.splitlines() if x[:1] == "|"]
    way = "along the wire, as mounted"
    cycle = [x for x in cells if len(x) == 6 and x[1] == way]
    told.same("note: cycle", len(cycle), 0 if s.fatigue is None else len(s.fatigue.mounted))
    rows = [x for x in cells if len(x) > 6 and x[2] == way]
    told.same("note: rows as mounted", len(rows), len(s.mounted))
    for row, p in zip(rows, s.mounted, strict=True):
        load, length = (_numbers(x.replace("−", "-"))[0] for x in row[:2])
        told.number("note: load as mounted", load, p.load, _READ)
        told.number("note: length as mounted", length, p.length, _READ)


def _step(told: Compared, s: Summary) -> None:
    attributes = {key: x.value for key, x in attributes_of(s)}
    assert s.verdict is not None
    told.same("STEP: verdict", s.verdict.words in description(s), True)
    first = 1 + len(s.points) - len(s.mounted)
    for i, p in enumerate(s.mounted, start=first):
        for key, own in (("load", p.load), ("length", p.length)):
            found = attributes.get(f"{key}_{i}_as_mounted")
            told.number(f"STEP: {key} as mounted", found, own, _NEAR)


def _desk(told: Compared, spring: Spring, s: Summary, fit: FitReport) -> None:
    found: Any = whole(spring, PLAIN)
    rows = {r["key"]: r["value"] for r in found["rows"]}
    assert s.pull.mounted is not None
    assert s.verdict is not None
    told.number("desk: stop", rows["stop_mounted"], s.pull.mounted.length, _NEAR)
    words = s.verdict.words
    told.same("desk: verdict", found["verdict"]["words"].startswith(words[1:], 1), True)
    first = 1 + len(s.points) - len(s.mounted)
    for i, p in enumerate(s.mounted, start=first):
        told.number("desk: load", rows[f"there.load.{i}"], p.load, _NEAR)
        told.number("desk: length", rows[f"there.length.{i}"], p.length, _NEAR)
    findings = [f for f in (*s.findings, *fit.findings) if f.topic == "design"]
    told.same("desk: findings", len(found["findings"]), len(findings))
