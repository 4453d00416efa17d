"""The calculation note as a reader reads it, figure by figure, beside the summary.

The file is read as text: its sections, tables and sentences, in any language and units; every
number is turned back into mm, N and MPa by factors of our own and must be the summary's in the
digits that are printed. Of each formula that stands for a number of the summary the result is read.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from springgeo import Spring
from tests.stability.wild import Random, pick

from .compared import Compared
from .drawn import drawn
from .page import UNITS

# beside those of the page: density, energy
OWN = UNITS | {"g/cm3": 1.0, "lb/in3": 27.679904710203, "mJ": 1.0, "J": 1e3, "%": 1.0}
OWN |= {"oz": 0.028349523125, "in lbf": UNITS["lbf in"], "°C": 1.0, "°F": 1.0}
_SIGNS = "|".join(re.escape(u) for u in sorted(OWN, key=len, reverse=True))
_NUMBER = re.compile(
    # groups of three stand apart by a space
    r"(?<![\w.,])([-\u2212]?(?:\d{1,3}(?:[ \u202f]\d{3})+|\d+)(?:[.,]\d+)?(?:e[-+\u2212]?\d+)?)"
    rf"(?:[\u00a0 ]({_SIGNS})(?![\w/³]))?(?!\w)"
)
PLACES = "body_shear", "hook_bending", "hook_torsion"


class Figure(NamedTuple):
    """A printed number: its value in mm, N, MPa, and half of its last decimal place."""

    value: float
    half: float
    unit: str | None


def figures(text: str, language: str, unit: str | None = None) -> list[Figure]:
    """Return the numbers of a text, those without a unit in ``unit``."""
    found = []
    for number, sign in _NUMBER.findall(text):
        plain = re.sub(r"[ \u202f]", "", number).replace("\u2212", "-")
        if language != "en":
            plain = plain.replace(",", ".")
        mantissa, _, power = plain.partition("e")
        places = len(mantissa.partition(".")[2])
        own = sign or unit
        value, half = float(plain), 0.5 * 10.0 ** (int(power or 0) - places)
        if own == "°F":
            value, half = (value - 32) / 1.8, half / 1.8
        else:
            worth = OWN[own] if own else 1.0
            value, half = value * worth, half * worth
        found.append(Figure(value, half, own))
    return found


class Reader:
    """Compares what is printed with what it should be; ``language`` says how it is written."""

    def __init__(self, told: Compared, language: str) -> None:
        self.told, self.language = told, language

    def row(
        self, what: str, text: str, own: Sequence[Any], *, digits: int = 4, unit: str | None = None
    ) -> None:
        """Compare the numbers of a text with our own, to so many figures or its last decimal."""
        wanted = [x for x in own if x is not None]
        read = figures(text, self.language, unit)
        self.told.same(f"note: numbers of {what}", len(read), len(wanted))
        for figure, value in zip(read, wanted, strict=False):
            power = math.floor(math.log10(abs(value))) if value else 0
            least = 0.5 * 10.0 ** (power - digits + 1)
            near = least if figure.half < least else max(figure.half, least)
            # an integer is rounded to its figures, not to one
            if figure.half >= 0.5 * 10.0**power:
                near = figure.half
            self.told.number(
                f"note: {what}, in its last digit",
                abs(figure.value - value),
                0.0,
                1.02,
                of=max(near, 1e-12),
            )


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Write the note on one spring, for any reader, and read it."""
    spring = Spring.from_dict(drawn(rng, coils=12))
    units, language = str(pick(rng, ("mm", "inch"))), str(pick(rng, ("en", "de", "fr")))
    path = folder / "note.md"
    spring.note(path, units=units, language=language)  # type: ignore[arg-type]
    s = json.loads(spring.summary().json_text(None))
    parts = _parts(path.read_text(encoding="utf-8"))
    by = Reader(told, language)
    sections = [_job, None, _material, _geometry, _rate, _strength, _pull]
    if s["fatigue"] is not None:
        sections.append(_fatigue)
    sections.append(_dynamics)
    printed: list[float] = []
    for read, part in zip(sections, parts, strict=False):
        if read is None:
            continue
        results = [r for f in part.formulas for r in _result(f, language)]
        printed += results
        for path_, own in read(by, part, s):
            if own is None:
                continue
            nearest = min(printed, key=lambda x: abs(x - own), default=math.inf)
            told.number(f"note: formula of {path_}", nearest, own, 6e-5)


class Part:
    """A section: its tables as rows of cells, its sentences, its formulas."""

    def __init__(self, lines: Sequence[str]) -> None:
        self.tables: list[list[list[str]]] = []
        self.texts: list[str] = []
        self.formulas: list[str] = []
        table: list[list[str]] = []
        for line in [*lines, ""]:
            if line.startswith("| "):
                cells = [_plain(x) for x in re.split(r"(?<!\\)\|", line)[1:-1]]
                table.append(cells)
                continue
            if table:
                # the head, the dashes, the rows
                self.tables.append([table[0], *table[2:]])
                table = []
            if line.endswith("$"):
                self.formulas.append(line)
            elif line and not line.startswith(("!", "- ", "```")):
                self.texts.append(_plain(line.strip("*")))


def _plain(cell: str) -> str:
    return re.sub(r"\\([\\`*_\[\]<>#|$])", r"\1", cell.strip())


def _parts(text: str) -> list[Part]:
    found = re.split(r"^## \d+ .*$", text, flags=re.MULTILINE)[1:]
    return [Part(part.splitlines()) for part in found]


def _result(line: str, language: str) -> list[float]:
    """Return what a formula comes to."""
    told = re.search(r"= \\text\{([^{}]*)\}\$$", line)
    assert told, line
    return [f.value for f in figures(told[1].replace("\\%", "%"), language)][:1]


Formulas = Iterator[tuple[str, float | None]]


def _job(by: Reader, part: Part, s: dict[str, Any]) -> Formulas:
    rows, service = [row[1] for row in part.tables[0][1:]], s["specification"].get("service", {})
    if service.get("duty") == "cyclic" and service.get("cycles"):
        by.row("cycles", rows[1], [service["cycles"]], digits=3)
        rows.pop(1)
    by.row("service temperature", rows[1], [s["temperature"]["value"]])
    by.told.same("note: working points", len(rows) - 2, len(s["points"]))
    for row, p in zip(rows[2:], s["points"], strict=True):
        by.row("a working point", row, [p["load"], p["length"], p["deflection"]])
    yield from ()


def _material(by: Reader, part: Part, s: dict[str, Any]) -> Formulas:
    rows, m = [row[1] for row in part.tables[0][1:]], s["material"]
    for key, row in zip(
        ("tensile_strength", "shear_modulus", "elastic_modulus"), rows, strict=False
    ):
        by.row(key, row, [m[key]])
    by.row("density", rows[3], [m["density"]], digits=3)
    yield from ()


def _geometry(by: Reader, part: Part, s: dict[str, Any]) -> Formulas:
    g, rows = s["geometry"], [row[1] for row in part.tables[0][1:]]
    for what, row, own in (
        ("wire diameter", rows[0], [g["wire_diameter"]]),
        ("mean diameter", rows[1], [g["mean_diameter"]]),
        ("outer and inner diameter", rows[2], [g["outer_diameter"], g["inner_diameter"]]),
        ("body length", rows[4], [g["body_length"]]),
        ("free length", rows[5], [g["free_length"]]),
        ("wire length", rows[6], [g["wire_length"]]),
        ("mass", rows[7], [g["mass"]]),
    ):
        by.row(what, row, own)
    by.row("body coils", rows[3], [g["body_coils"]], digits=5)
    for side, row in zip(("first", "second"), rows[8:], strict=True):
        keys = ("hook_length", "loop_radius", "bend_radius", "opening")
        own = [g[f"{key}_{side}"] for key in keys]
        by.row("an end", re.sub(r"^[^,]*, |\br[12] ", "", row), own)
    free = s["free_length"]
    read = figures(part.texts[-1], by.language)
    by.row("free length in words", part.texts[-1], [g["free_length"], free["handbook_difference"]])
    by.told.number(
        "note: difference of the handbook", abs(read[1].value - free["handbook_difference"]), 0.0,
        1.02, of=read[1].half,
    )  # fmt: skip
    yield "index", g["index"]
    yield "handbook's free length", free["handbook"]


def _rate(by: Reader, part: Part, s: dict[str, Any]) -> Formulas:
    rows = [row[1] for row in part.tables[0][1:]]
    own = [x["rate"] for x in s["rate_conventions"].values()]
    own += [s["rates"]["small_load"], s["rates"]["between_points"]]
    own = [x for x in own if x is not None]
    by.told.same("note: rates", len(rows), len(own))
    for row, x in zip(rows, own, strict=False):
        by.row("a rate", row, [x])
    yield "rate", s["rate"]
    t = s["initial_tension"]
    if t["force"] > 0:
        yield "initial stress", t["stress"]
        yield "preferred stress, low", t["preferred_low"]
        yield "preferred stress, high", t["preferred_high"]


def _units(head: Sequence[str]) -> list[str | None]:
    """Return the unit that stands last in each head of a column."""
    found = [re.search(rf"(?:^|[\u00a0 ])({_SIGNS})$", x) for x in head]
    return [None if x is None else x[1] for x in found]


def _cells(
    by: Reader, what: str, row: Sequence[str], units: Sequence[str | None], own: Any
) -> None:
    """Compare the cells of a row, a dash for None; stresses and margins to their last decimal."""
    for cell, unit, value in zip(row, units, own, strict=True):
        if value is None:
            by.told.same(f"note: {what}, none", cell, "–")
            continue
        read = figures(cell, by.language, unit)
        by.told.same(f"note: {what}, a number", len(read), 1)
        for figure in read:
            power = math.floor(math.log10(abs(value))) if value else 0
            near = max(figure.half, 0.5 * 10.0 ** (power - 3))
            if unit in ("N", "lbf", "mm", "in"):  # four figures, zeros at the end left out
                near = 0.5 * 10.0 ** (power - 3) * (1.0 if unit in ("N", "mm") else 10.0)
            by.told.number(
                f"note: {what}, in its last digit", abs(figure.value - value), 0.0, 1.02, of=near
            )


def _strength(by: Reader, part: Part, s: dict[str, Any]) -> Formulas:
    points, wire = s["points"], s["along_the_wire"]["points"]
    if not points:
        return
    by.row("highest load", part.texts[0], [points[-1]["load"]])
    head, *rows = part.tables[0]
    units = _units(head)
    every = [p for both in zip(points, wire, strict=True) for p in both]
    by.told.same("note: rows of stress", len(rows), len(every))
    for row, p in zip(rows, every, strict=False):
        own = [p["load"], p["length"]]
        for key in PLACES:
            own += [p[key], p["margin"][key]]
        _cells(by, "stress at a point", row[:2] + row[3:], units[:2] + units[3:], own)
    peaks = {(p["region"], p["kind"]): p for p in s["along_the_wire"]["peaks"]}
    at = {"body_shear": ("body", "shear"), "hook_bending": ("A", "axial")}
    at |= {"hook_torsion": ("B", "shear")}
    shown = [k for k in PLACES if at[k] in peaks and wire[-1][k] is not None]
    by.told.same("note: peaks", len(part.tables[1]) - 1, len(shown))
    for row, key in zip(part.tables[1][1:], shown, strict=False):
        p = peaks[at[key]]
        by.row("a peak's stress", row[1], [wire[-1][key]])
        by.row("a peak's place", row[3], [p["s"]])
        by.row("a peak's band", row[4], [p["error_low"], p["error_high"]])
    for key in PLACES:
        yield f"margin, {key}", points[-1]["margin"][key]
    if s["static_check"] is not None:
        yield "static check", s["static_check"]["margin"]


def _pull(by: Reader, part: Part, s: dict[str, Any]) -> Formulas:
    pull, (head, *rows) = s["pull"], part.tables[0]
    units = _units(head)[2:]
    every = [x for way in ("handbook", "along_the_wire") for x in pull[way].values()]
    by.told.same("note: rows of pull", len(rows), len(every))
    for row, x in zip(rows, every, strict=False):
        own: list[float | None] = []
        for key in ("allowable", "yield_from", "yield_to"):
            own += [None, None] if x[key] is None else [x[key]["load"], x[key]["length"]]
        _cells(by, "how far it may be pulled", row[2:], units, own)
    by.row("travel stop", part.texts[0], [pull["travel_stop"], pull["travel_stop_load"]])
    yield from ()


def _fatigue(by: Reader, part: Part, s: dict[str, Any]) -> Formulas:
    f, (head, *rows) = s["fatigue"], part.tables[0]
    first = part.texts[0].partition(":")[0]
    by.row("loads of a cycle", first, [f["load_low"], f["load_high"]])
    units = _units(head)[2:]
    every = [p for way in ("handbook", "along_the_wire", "mounted") for p in f[way].values()]
    by.told.same("note: rows of fatigue", len(rows), len(every))
    for row, p in zip(rows, every, strict=False):
        own = [p[k] for k in ("alternating", "mean", "repeated_strength", "factor")]
        _cells(by, "fatigue", row[2:], units, own)
    factors = {k: p["factor"] for k, p in f["handbook"].items() if p["factor"] is not None}
    if f["way"] in (None, "handbook") and factors and not f["spectrum"]:
        yield "fatigue factor", min(factors.values())


def _dynamics(by: Reader, part: Part, s: dict[str, Any]) -> Formulas:
    d = s["dynamics"]
    if d["stored_energy"] is not None:
        by.row("energy", part.texts[-1], [d["stored_energy"]], digits=3)
    yield "natural frequency", d["natural_frequency_both_held"]
