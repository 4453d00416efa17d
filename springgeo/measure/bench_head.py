"""Which columns of a test bench's CSV hold length and load, and in what units."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from springgeo import units
from springgeo.errors import SpecError, refused
from springgeo.text.characters import shown
from springgeo.text.table import SEPARATORS, cells_of, number

# what a column may be called, in the words of rigs; an extension counts from the free length
LENGTH = ("length", "distance")
EXTENSION = ("extension", "elongation", "displacement", "travel", "stroke", "deflection")
LOAD = ("load", "force")
# what a user may say that a column holds
HOLDS = ("length", "extension", "load")
# a unit in brackets or after a comma or stroke is meant as one; a last word may be one
_MEANT = re.compile(r"[\[(]\s*([^\])]+?)\s*[\])]|[,/]\s*(\S+)\s*$")
_LAST = re.compile(r"[\s_](\S+)\s*$")
# lines before the head that a rig may write about itself
PREAMBLE = 60
_SAY = "say which columns hold what with --columns length=NAME,load=NAME (or extension=NAME)"


class Said(NamedTuple):
    """What the user says of a bench's CSV: columns by name or number, and their units."""

    columns: Mapping[str, str] | None = None
    units: tuple[str, str] | None = None


class Head(NamedTuple):
    """Which columns hold what, and how many mm and N their units are.

    ``line`` counts from zero and is -1 for a table without a head. ``assumed``: no unit was
    given, so mm and N were taken. ``unused`` are the names of the other columns.
    """

    apart: str
    line: int
    length: int
    load: int
    to_mm: float
    to_N: float
    extension: bool
    assumed: bool
    names: tuple[str, str]
    unused: tuple[str, ...]


class _Place(NamedTuple):
    line: int
    length: int
    load: int
    extension: bool


def find_head(lines: Sequence[str], name: str, said: Said) -> Head:
    """Return the head of a bench's CSV.

    Raises
    ------
    SpecError
        No line names the columns, or a unit is not known; says how to name them.
    """
    for at, line in enumerate(lines):
        for apart in ";\t,":  # a comma may stand before a unit
            cells = cells_of(line, apart)
            find = _named if said.columns is None else _said
            place = find(cells, at, apart, said.columns or {})
            if place is not None:
                above = cells_of(lines[place.line], apart) if place.line >= 0 else []
                return _head(place, apart, above, name, said)
    raise _unnamed(lines, name, said)


def _named(cells: list[str], line: int, _apart: str, _columns: Mapping[str, str]) -> _Place | None:
    """Return the columns by the words that rigs use."""
    lower = [c.lower() for c in cells]
    load, length, extension = _column(lower, LOAD), _column(lower, LENGTH), False
    if length is None:
        length, extension = _column(lower, EXTENSION), True
    if load is None or length is None or load == length:
        return None
    return _Place(line, length, load, extension)


def _column(cells: list[str], words: tuple[str, ...]) -> int | None:
    return next((i for w in words for i, c in enumerate(cells) if w in c), None)


def _said(cells: list[str], line: int, apart: str, columns: Mapping[str, str]) -> _Place | None:
    """Return the columns that the user named, by their heads or by their numbers from 1."""
    extension = "extension" in columns
    given = columns["extension" if extension else "length"], columns["load"]
    if all(g.isdecimal() for g in given):
        length, load = (int(g[:9]) - 1 for g in given)
        if not 0 <= length != load >= 0 or len(cells) <= max(length, load):
            return None
        if any(math.isnan(number(cells[i], apart)) for i in (length, load)):
            return None
        return _Place(line - 1, length, load, extension)  # the first row of numbers
    found = [_by_name(cells, g) for g in given]
    if None in found or found[0] == found[1]:
        return None
    length, load = (i for i in found if i is not None)
    return _Place(line, length, load, extension)


def _by_name(cells: list[str], name: str) -> int | None:
    """Return the column of that name, or the only one that has it as a part."""
    wanted, lower = name.strip().casefold(), [c.casefold() for c in cells]
    if wanted in lower:
        return lower.index(wanted)
    parts = [i for i, c in enumerate(lower) if wanted in c]
    return parts[0] if len(parts) == 1 else None


def _head(place: _Place, apart: str, cells: list[str], name: str, said: Said) -> Head:
    titles = [cells[i] if i < len(cells) else f"column {i + 1}" for i in (place.length, place.load)]
    found = [
        _factor(title, kind, name) if said.units is None else _unit(unit, kind, title, name)
        for title, kind, unit in zip(
            titles, ("length", "force"), said.units or ("", ""), strict=True
        )
    ]
    to_mm, to_N = (1.0 if f is None else f for f in found)
    used = (place.length, place.load)
    return Head(
        apart,
        place.line,
        place.length,
        place.load,
        to_mm,
        to_N,
        place.extension,
        None in found,
        (shown(titles[0][:40]), shown(titles[1][:40])),
        tuple(shown(c[:40]) for i, c in enumerate(cells) if i not in used and c),
    )


def _factor(title: str, kind: str, name: str) -> float | None:
    """Return how many mm or N the unit written in a head's cell is, or None without one."""
    cell = title.lower()
    if (meant := _MEANT.search(cell)) is not None:
        return _unit(meant[1] or meant[2], kind, title, name)
    last = _LAST.search(cell)
    return None if last is None else _known(kind).get(last[1])


def _unit(text: str, kind: str, title: str, name: str) -> float:
    factor = _known(kind).get(text.strip().lower())
    if factor is None:
        raise bad(
            name,
            f"'{text[:20]}' in '{title[:40]}' is not a unit of {kind}; use one of: "
            f"{', '.join(units.FACTORS[kind])}, or give them with --units LENGTH,FORCE",
        )
    return factor


def _known(kind: str) -> dict[str, float]:
    return {u.lower(): f for u, f in units.FACTORS[kind].items()}


def _unnamed(lines: Sequence[str], name: str, said: Said) -> SpecError:
    rows = [cells_of(line, apart) for line in lines for apart in SEPARATORS]
    titles = [[c for c in row if c and math.isnan(number(c, ";"))] for row in rows]
    most = max(titles, key=len, default=[])
    seen = ", ".join(f"'{c[:30]}'" for c in most[:6]) if len(most) > 1 else "nothing"
    if said.columns:
        asked = ", ".join(f"{k}={v}" for k, v in said.columns.items())
        return bad(name, f"no line has the columns {asked[:100]}; the head seems to name {seen}")
    return bad(
        name,
        f"no head names two columns, one of {', '.join((*LENGTH, *EXTENSION))} and one of "
        f"{', '.join(LOAD)} (it seems to name {seen}); {_SAY}",
    )


def bad(name: str, words: str) -> SpecError:
    """Return the error for a bench's CSV that cannot be read."""
    return refused("bad-bench", shown(name), shown(" ".join(words.split()))[:500])
