"""The report page's figures and data, and the sheet's, beside the summary and single states.

Every number of the page is read as a reader sees it, with its unit and decimal sign, and turned
back into mm and N by factors of our own; so is the sheet's table. The load table handed over lies
on the load curve. The data of the view are the rings of states that are asked one by one.
"""

from __future__ import annotations

import base64
import html
import json
import re
from pathlib import Path
from typing import Any

import numpy as np

from springgeo import Spring
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Sheet
from springgeo.text.shown import Shown
from tests.stability.wild import Random, pick

from .compared import Compared
from .drawn import drawn

INCH, POUND, KSI = 25.4, 4.4482216152605, 6.894757293168
# what a unit is in mm, N, MPa, kg, N/mm, N mm; figures of people
UNITS = {
    "mm": 1.0, "in": INCH, "N": 1.0, "lbf": POUND, "MPa": 1.0, "ksi": KSI, "N/mm": 1.0,
    "lbf/in": POUND / INCH, "kg": 1.0, "g": 1e-3, "lb": 0.45359237, "N mm": 1.0, "N·mm": 1.0,
    "lbf in": POUND * INCH, "lbf·in": POUND * INCH, "Hz": 1.0, "°": 1.0, "GPa": 1e3,
}  # fmt: skip
_DATA = re.compile(
    r'<data value="([^"]*)" data-path="([^"]*)" data-scale="([^"]*)"(?: data-offset="([^"]*)")?>'
    r'([^<]*)</data>(?:\s*<span class="unit">([^<]*)</span>)?'
)


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Write the page of one spring, for any reader, and read it."""
    spring = Spring.from_dict(drawn(rng, coils=12))
    units, language = str(pick(rng, ("mm", "inch"))), str(pick(rng, ("en", "de", "fr")))
    path = folder / "page.html"
    spring.report(path, units=units, language=language)  # type: ignore[arg-type]
    text = path.read_text(encoding="utf-8")
    summary = json.loads(spring.summary().json_text(None))
    embedded = json.loads(_script(text, "summary"))
    told.same("page: embedded summary", embedded, summary)
    _figures(told, text, summary, language)
    _view(told, json.loads(_script(text, "view-data")), spring)
    _sheet(told, spring, units, language)
    _handover(told, spring, folder)


def _script(text: str, name: str) -> str:
    found = re.search(rf'<script[^>]*id="{name}"[^>]*>(.*?)</script>', text, re.DOTALL)
    assert found, name
    return found[1]


def _at(data: Any, path: str) -> Any:
    for key in path.split("."):
        data = data[int(key)] if isinstance(data, list) else data[key]
    return data


def read(text: str, language: str) -> float:
    """Return a number as a reader of a language reads it."""
    plain = html.unescape(text).replace("\u2212", "-").replace("\u202f", "").replace("\u00a0", "")
    if language != "en":
        assert "." not in plain, text
        plain = plain.replace(",", ".")
    return float(plain)


def _figures(told: Compared, text: str, summary: dict[str, Any], language: str) -> None:
    for value, path, scale, offset, shown, unit in _DATA.findall(text):
        path = html.unescape(path)
        own = _at(summary, path)
        told.number("page: value of an element", float(value), own, 1e-12)
        number = read(shown, language)
        # the element's own scale, and ours where a unit follows
        worth = 1 / float(scale) if float(scale) else 1.0
        shown = re.sub("[\u202f\u00a0]", "", shown)
        plain, exponent = shown.partition("e")[0], "e" in shown
        figures = plain if re.search("[.,]", shown) else shown.rstrip("0")
        digits = len(re.sub(r"[^\d]", "", figures.lstrip("-\u22120.,"))) or 1
        near = 6 * 10.0**-digits
        places = len(re.split("[.,]", plain)[1]) if re.search("[.,]", plain) else 0
        least = 0.0 if exponent else 0.6 * 10.0**-places
        if unit in UNITS:
            worth = UNITS[unit]
            if path == "temperature.value":
                continue
        back = (number - float(offset or 0.0)) * worth
        told.number(
            "page: figure as read, in its last digits", abs(back - own),
            0.0, 1.0, of=max(near * abs(own), least * worth, 1e-300),
        )  # fmt: skip


def _numbers(text: str, kind: str, shape: tuple[int, ...]) -> Any:
    return np.frombuffer(base64.b64decode(text), dtype=kind).reshape(shape)


def _view(told: Compared, view: dict[str, Any], spring: Spring) -> None:
    """Middles of rings lie on the state's own centreline; greatest stresses are those there."""
    n, d = len(view["states"]), spring.summary().geometry.wire_diameter
    arc = _numbers(view["arc"], "<f4", (-1,)).astype(float)
    rings = _numbers(view["rings"], "<i2", (n, len(arc), 9))[..., :3].astype(float)
    low, span = np.array(view["low"]), np.array(view["span"])
    middle = (rings + 32768) / 65535 * span + low
    stress = _numbers(view["stress"]["von_mises"], "<f4", (n, len(arc)))
    exact = {0, n - 1}
    curve = spring.load_curve
    for i in range(n):
        load, length = view["loads"][i], view["states"][i]
        told.number("page: length of a state", length, curve.length(load), 2e-4)
        if i not in exact:
            continue
        state = spring.at(load=load)
        L = spring.centreline.length
        own = state.centreline.point(np.minimum(arc / L, 1.0) * state.centreline.length)
        told.array("page: middles of rings", middle[i], own, 2e-3, of=max(d, span.max() * 0.01))
        wire = spring.along_the_wire.at(load)
        inside = (arc > wire.s[0]) & (arc < wire.s[-1])
        top = float(stress[i][inside].max()) if inside.any() else 0.0
        most = max(p.von_mises.value for p in wire.peaks.values())
        told.number("page: greatest stress of a state", top, most, 0.01, of=1.0)
    for stop in view["stops"]:
        told.number("page: a stop's length", stop["length"], curve.length(stop["load"]), 1e-6)
    told.number("page: free length", view["free"], spring.free_length, 1e-9)


def _sheet(told: Compared, spring: Spring, units: str, language: str) -> None:
    """Read the sheet's table: figures by their symbols, turned back into mm and N."""
    s = spring.summary()
    g = s.geometry
    shown = Shown(units, language, typeset=True)  # type: ignore[arg-type]
    found = {}
    for row in data_rows(Sheet(spring.model, s, "metric")):
        if row.symbol and row.symbol not in found:
            found[row.symbol] = shown.text(row.value)
    for symbol, own in (
        ("d", g.wire_diameter),
        ("D", g.mean_diameter),
        ("De", g.outer_diameter),
        ("Di", g.inner_diameter),
        ("w", g.index),
        ("n", g.body_coils),
        ("LK", g.body_length),
        ("L0", g.free_length),
        ("F0", s.initial_tension.force if s.initial_tension.force > 0 else None),
    ):
        text = found.get(symbol)
        if text is None or own is None:
            continue
        first = re.search(r"-?[\d\u202f]+(?:[.,]\d+)?", text)
        assert first, text
        unit = next((u for u in ("mm", "in", "lbf", "N") if re.search(rf"\b{u}\b", text)), None)
        worth = UNITS[unit] if unit else 1.0
        places = len(re.split("[.,]", first[0])[1]) if re.search("[.,]", first[0]) else 0
        back = read(first[0], language) * worth
        told.number(
            f"sheet: {symbol}, in its last digit", abs(back - own), 0.0, 1.0,
            of=0.6 * 10.0**-places * worth,
        )  # fmt: skip


def _handover(told: Compared, spring: Spring, folder: Path) -> None:
    """The load table handed over lies within its promise of the load curve."""
    path = folder / "curve.csv"
    spring.curve(path)
    rows = [
        x.split(",") for x in path.read_text(encoding="utf-8").splitlines() if x and x[0] != "#"
    ]
    numbers = np.array([[float(c) for c in r] for r in rows if re.match(r"^-?[\d.]", r[0])])
    head = next(r for r in rows if not re.match(r"^-?[\d.]", r[0]))
    at = {name.split(" ")[0].split("_")[0]: i for i, name in enumerate(head)}
    length, load = numbers[:, at["length"]], numbers[:, at["load"]]
    curve = spring.load_curve
    for i in range(1, len(length), max(1, len(length) // 5)):
        middle = (length[i - 1] + length[i]) / 2
        straight = (load[i - 1] + load[i]) / 2
        told.number("handover: a point", load[i], curve.load(length[i]), 1e-4, of=1e-3 * load[-1])
        told.number(
            "handover: between two points", straight, curve.load(middle), 2e-3, of=0.02 * load[-1]
        )
