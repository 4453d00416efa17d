"""A test bench's own CSV: lengths and loads by the thousand, as rigs write them."""

from __future__ import annotations

import io
from collections.abc import Iterator
from itertools import islice
from os import PathLike
from pathlib import Path
from typing import NamedTuple

import numpy as np

from springgeo.findings import Finding, note, warning
from springgeo.measure.bench_head import PREAMBLE, Head, Said, bad, find_head
from springgeo.mechanics.value import Array
from springgeo.text.characters import shown
from springgeo.text.table import number, rows
from springgeo.text.text_file import text_of

BENCH_BYTES = 500_000_000
# a run is reduced to the means of so many slices of equal length: enough for the line and for
# seeing it bend, few enough that rig errors common to neighbours are not taken for certainty
SLICES = 100


class Run(NamedTuple):
    """Slices of a run ``(n,)``, mm and N; ``extension`` if lengths count from the free one.

    ``left_out`` rows hold no two finite numbers.
    """

    name: str
    length: Array
    load: Array
    extension: bool
    rows: int
    left_out: int
    head: Head

    def findings(self) -> Iterator[Finding]:
        """Yield what was made of the file: what was read as what, and what was not read."""
        h = self.head
        what = "extension" if h.extension else "length"
        text = f"{what} from '{h.names[0]}', load from '{h.names[1]}', {self.rows} rows"
        if self.rows > len(self.load):
            text += f" as the means of {len(self.load)} slices"
        if h.unused:
            text += f"; not used: {', '.join(h.unused[:8])}" + ", ..." * (len(h.unused) > 8)
        yield note("bench-read", self.name, text)
        if h.assumed:
            text = "the head gives no unit: taken as mm and N; give others with --units in,lbf"
            yield warning("bench-unit-assumed", self.name, text)
        if self.left_out:
            text = f"{self.left_out} of {self.rows + self.left_out} rows hold no two finite numbers"
            say = warning if self.left_out > self.rows else note
            yield say("bench-rows-left-out", self.name, f"{text} and were left out")


def read_bench(path: str | PathLike[str], said: Said = Said()) -> Run:  # noqa: B008 - a constant
    """Return the readings of a bench CSV.

    Cells may be parted by commas, semicolons or tabs, and numbers written with a decimal comma
    where the comma does not part cells. The head must name a length (or an extension) and a load,
    or the user says which columns they are; a unit may follow: ``Length [mm]``, ``force (lbf)``,
    ``load, N``. Rows without two finite numbers are left out and counted.

    Raises
    ------
    FileError
        The file cannot be read.
    SpecError
        No head, an unknown unit, or no readings under it.
    """
    name = shown(Path(path).name)
    text = text_of(path, BENCH_BYTES)
    lines = list(islice(io.StringIO(text, newline=""), PREAMBLE))
    head = find_head([line.rstrip("\r\n") for line in lines], name, said)
    body = text[sum(map(len, lines[: head.line + 1])) :]
    pairs = np.array(list(_numbers(body, head, name)), dtype=np.float64).reshape(-1, 2)
    with np.errstate(over="ignore"):
        pairs = pairs * (head.to_mm, head.to_N)
    whole = np.isfinite(pairs).all(axis=1)
    length, load = pairs[whole].T
    if not len(length):
        raise bad(name, "has a head but no readings under it")
    slices = _slices(length, load)
    return Run(name, *slices, head.extension, len(length), int((~whole).sum()), head)


def _numbers(text: str, head: Head, name: str) -> Iterator[tuple[float, float]]:
    last = max(head.length, head.load)
    for row in rows(text, head.apart, name, first=head.line + 2):
        if len(row.cells) > last:
            length, load = row.cells[head.length], row.cells[head.load]
            yield number(length, head.apart), number(load, head.apart)
        elif any(row.cells):
            yield np.nan, np.nan


def _slices(length: Array, load: Array) -> tuple[Array, Array]:
    """Return means over slices of equal length; a run there and back is so averaged too."""
    if len(length) <= SLICES:
        return length, load
    with np.errstate(over="ignore", invalid="ignore"):  # beyond any spring: refused as such
        edges = np.linspace(length.min(), length.max(), SLICES + 1)
        which = np.clip(np.searchsorted(edges, length, side="right") - 1, 0, SLICES - 1)
        count = np.bincount(which, minlength=SLICES)
        full = count > 0
        sums = (np.bincount(which, weights=x, minlength=SLICES)[full] for x in (length, load))
        x, y = (s / count[full] for s in sums)
    return x, y
