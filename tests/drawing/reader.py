"""A maker who has nothing but the sheet: reads its lines and texts, and orders the spring again.

Only plain lines and texts of the pages are looked at, by where they stand; the words are this
reader's own, so that a row that is renamed or lost is a spring that cannot be made.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from springgeo import Spring
from springgeo.drawing.page import Page, Text
from springgeo.ends import registry
from springgeo.errors import SpecError

# what the words of the table are called in a specification
WORDS = {
    "hook length": "hook_length",
    "cut end to body's face": "opening",
    "loop radius, centreline": "loop_radius",
    "bend radius, centreline": "bend_radius",
    "rise radius, centreline": "rise_radius",
    "coils in the end": "coils",
    "of them on the fitting": "coils",
    "last coil, mean diameter": "end_diameter",
    "thread": "thread",
    "last coil to edge of hole": "hole_height",
    "last coil to end of shank": "shank_length",
    "shank diameter": "shank_diameter",
    "stud diameter": "stud_diameter",
    "stud length": "stud_length",
    "collar thickness": "collar_thickness",
    "hole diameter": "hole_diameter",
    "thickness": "thickness",
    "inside diameter": "eye_diameter",
}
# the diameter that rules stands without brackets
FORMS = {
    "mean diameter": "mean_diameter",
    "outside diameter": "outer_diameter",
    "inside diameter": "inner_diameter",
}
_NUMBER = re.compile(r"-?\d[\d\u202f]*(?:\.\d+)?")
# what a last digit leaves open, mm
STEP = 0.005


def rows_of(pages: list[Page]) -> Iterator[tuple[str, str, str]]:
    """Yield symbol, quantity and value of every row; a heading has its words alone."""
    for page in pages:
        rules = [
            x.points for x in page.lines if x.layer == "DATA" and x.points[0, 1] == x.points[1, 1]
        ]
        lefts = sorted({(float(p[0, 0]), float(p[1, 0])) for p in rules})
        for left, right in lefts:
            texts = [t for t in page.texts if t.layer == "DATA" and left <= t.at[0] < right]
            yield from _rows(texts, left)


def _rows(texts: list[Text], left: float) -> Iterator[tuple[str, str, str]]:
    by_line: dict[float, list[Text]] = {}
    for t in texts:
        by_line.setdefault(round(t.at[1], 4), []).append(t)
    rows: list[list[Text]] = []
    last = float("inf")
    for y in sorted(by_line, reverse=True):
        line = sorted(by_line[y], key=lambda t: t.at[0])
        if rows and last - y < 1.05 * 1.6 * line[0].height:
            rows[-1] += line
        else:
            rows.append(line)
        last = y
    for row in rows:
        first = [t for t in row if t.at[0] < left + 2]
        rest = [t for t in row if t.at[0] >= left + 2]
        if not rest:
            yield "", " ".join(t.text for t in first), ""
            continue
        at = min(t.at[0] for t in rest)
        quantity = " ".join(t.text for t in rest if t.at[0] - at < 1e-6)
        value = " ".join(t.text for t in rest if t.at[0] - at >= 1e-6)
        yield " ".join(t.text for t in first), quantity, value


def number(text: str) -> float:
    """Return the first number of a text."""
    found = _NUMBER.search(text)
    assert found, text
    return float(found.group().replace("\u202f", ""))


def ordered(pages: list[Page]) -> dict[str, Any]:
    """Return the specification that the sheet states."""
    titles = {s.title: s.name for s in registry.styles().values()}
    spec: dict[str, Any] = {"wire": {}, "body": {}, "ends": {}}
    end: dict[str, Any] | None = None
    for _, quantity, value in rows_of(pages):
        if not value:
            side = next((s for s in ("FIRST", "SECOND") if quantity.startswith(f"{s} END: ")), "")
            end = None
            if side:
                end = {"style": titles[quantity.partition(": ")[2]]}
                spec["ends"][side.lower()] = end
        elif end is not None:
            _end(end, quantity, value)
        else:
            _row(spec, quantity, value)
    return spec


def _row(spec: dict[str, Any], quantity: str, value: str) -> None:
    body = spec["body"]
    if quantity == "wire diameter":
        spec["wire"]["diameter"] = number(value)
    elif quantity in FORMS and not value.startswith("("):
        body[FORMS[quantity]] = number(value)
    elif quantity in ("coils, hand", "body coils, hand"):
        body |= {"coils": number(value), "hand": value.split(", ")[1].split()[0]}
    elif quantity == "winding" and value.startswith("open"):
        body["pitch"] = number(value)
    elif quantity == "second opens from first":
        spec["ends"]["facing"] = number(value)


def _end(end: dict[str, Any], quantity: str, value: str) -> None:
    known = registry.get(end["style"]).parameters.model_fields
    name = WORDS.get(quantity) or WORDS.get(quantity.partition(", ")[2], "")
    if name == "eye_diameter" and name not in known:
        name = "hook_diameter"
    if name == "rise_radius" and name not in known:
        name = "loop_radius"
    if name in known:
        end[name] = value.partition(" – ")[0] if name == "thread" else number(value)
    if "thread" in end:  # which says the diameter
        for same in ("stud_diameter", "shank_diameter"):
            end.pop(same, None)


def made(pages: list[Page]) -> Spring:
    """Return the spring made to the sheet; a size that a limit refuses goes by its last digit."""
    spec = ordered(pages)
    moved: dict[tuple[str, str], Iterator[float]] = {}
    for _ in range(40):
        try:
            return Spring.from_dict(spec)
        except SpecError as exc:
            _, side, name = exc.findings[0].field.split(".")
            key = (side, name)
            if key not in moved:
                stated = spec["ends"][side][name]
                moved[key] = iter([stated + k * STEP for k in (1, -1, 2, -2)])
            spec["ends"][side][name] = next(moved[key])
    raise AssertionError(f"cannot be made: {spec}")
