"""A test bench's own CSV: lengths and loads by the thousand, as rigs write them."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from os import PathLike
from pathlib import Path
from typing import NamedTuple

import numpy as np

from springgeo import units
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.mechanics.value import Array
from springgeo.text.text_file import text_of

BENCH_BYTES = 500_000_000
# a run is reduced to the means of so many slices of equal length: enough for the line and for
# seeing it bend, few enough that rig errors common to neighbours are not taken for certainty
SLICES = 100
# what a column may be called, in the words of rigs; an extension counts from the free length
LENGTH = ("length", "distance")
EXTENSION = ("extension", "elongation", "displacement", "travel", "stroke", "deflection")
LOAD = ("load", "force")
# a unit in brackets or after a comma or stroke is meant as one; a last word may be one
_MEANT = re.compile(r"[\[(]\s*([^\])]+?)\s*[\])]|[,/]\s*(\S+)\s*$")
_LAST = re.compile(r"[\s_](\S+)\s*$")
# lines before the head that a rig may write about itself
PREAMBLE = 60


class Run(NamedTuple):
    """Slices of a run ``(n,)``, mm and N; ``extension`` if lengths count from the free one."""

    length: Array
    load: Array
    extension: bool
    rows: int
    left_out: int


class Head(NamedTuple):
    """Which columns hold what, and how many mm and N their units are."""

    line: int
    length: int
    load: int
    to_mm: float
    to_N: float
    extension: bool


def read_bench(path: str | PathLike[str]) -> Run:
    """Return the readings of a bench CSV.

    Cells may be parted by commas, semicolons or tabs, and numbers written with a decimal comma
    where the comma does not part cells. The head must name a length (or an extension) and a load;
    a unit may follow: ``Length [mm]``, ``force (lbf)``, ``load, N``. Rows without two finite
    numbers are left out and counted.

    Raises
    ------
    FileError
        The file cannot be read.
    SpecError
        No head, an unknown unit, or no readings under it.
    """
    name = Path(path).name
    lines = text_of(path, BENCH_BYTES).splitlines()
    apart, head = _head(lines, name)
    pairs = np.array(list(_numbers(lines[head.line + 1 :], apart, head)), dtype=np.float64)
    pairs = pairs.reshape(-1, 2)
    whole = np.isfinite(pairs).all(axis=1)
    length, load = (pairs[whole] * (head.to_mm, head.to_N)).T
    if not len(length):
        raise _bad(name, "has a head but no readings under it")
    slices = _slices(length, load)
    return Run(*slices, head.extension, len(length), int((~whole).sum()))


def _head(lines: list[str], name: str) -> tuple[str, Head]:
    for number, line in enumerate(lines[:PREAMBLE]):
        for apart in ";\t,":  # a comma may stand before a unit
            cells = [c.strip().lower() for c in next(csv.reader([line], delimiter=apart), [])]
            load = _column(cells, LOAD)
            length, extension = _column(cells, LENGTH), False
            if length is None:
                length, extension = _column(cells, EXTENSION), True
            if load is not None and length is not None and load != length:
                to_mm = _factor(cells[length], "length", name)
                to_N = _factor(cells[load], "force", name)
                return apart, Head(number, length, load, to_mm, to_N, extension)
    raise _bad(
        name,
        f"no head names two columns, one of {', '.join((*LENGTH, *EXTENSION))} and "
        f"one of {', '.join(LOAD)}; write such a line over the readings",
    )


def _column(cells: list[str], words: tuple[str, ...]) -> int | None:
    return next((i for w in words for i, c in enumerate(cells) if w in c), None)


def _factor(cell: str, kind: str, name: str) -> float:
    """Return how many mm or N the unit written in a head's cell is; none means mm or N."""
    known = {u.lower(): f for u, f in units.FACTORS[kind].items()}
    if (meant := _MEANT.search(cell)) is not None:
        text = meant[1] or meant[2]
        if text not in known:
            raise _bad(
                name,
                f"'{text[:20]}' in '{cell[:40]}' is not a unit of {kind}; use one "
                f"of: {', '.join(units.FACTORS[kind])}",
            )
        return known[text]
    last = _LAST.search(cell)
    return 1.0 if last is None else known.get(last[1], 1.0)


def _numbers(lines: list[str], apart: str, head: Head) -> Iterator[tuple[float, float]]:
    last = max(head.length, head.load)
    comma = apart != ","
    for row in csv.reader(lines, delimiter=apart):
        if len(row) > last:
            yield _number(row[head.length], comma), _number(row[head.load], comma)
        elif any(row):
            yield np.nan, np.nan


def _number(cell: str, comma: bool) -> float:
    try:
        return float(cell.replace(",", ".") if comma else cell)
    except ValueError:
        return np.nan


def _slices(length: Array, load: Array) -> tuple[Array, Array]:
    """Return means over slices of equal length; a run there and back is so averaged too."""
    if len(length) <= SLICES:
        return length, load
    edges = np.linspace(length.min(), length.max(), SLICES + 1)
    which = np.clip(np.searchsorted(edges, length, side="right") - 1, 0, SLICES - 1)
    count = np.bincount(which, minlength=SLICES)
    full = count > 0
    sums = (np.bincount(which, weights=x, minlength=SLICES)[full] for x in (length, load))
    x, y = (s / count[full] for s in sums)
    return x, y


def _bad(name: str, words: str) -> SpecError:
    return SpecError(error("bad-bench", name, words))
