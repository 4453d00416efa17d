"""Tables of text (CSV): the one reader for readings, families and test benches."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterator
from typing import NamedTuple

from springgeo.errors import SpecError, refused
from springgeo.text.characters import shown

# cells may be parted by any of these
SEPARATORS = ",;\t"
# what Python's reader takes in one cell unless told otherwise
LONGEST_CELL = 131_072


class Row(NamedTuple):
    """The cells of a row, without outer spaces, and the line it ends on."""

    line: int
    cells: list[str]


def separator(text: str) -> str:
    """Return what parts the cells of a text: the mark most frequent in its first lines."""
    return max(SEPARATORS, key=text[:10_000].count)


def rows(text: str, apart: str, source: str, first: int = 1) -> Iterator[Row]:
    """Yield the rows of a table; ``first`` is the number of the text's first line.

    Raises
    ------
    SpecError
        A cell is too long, mostly because a quotation mark is left open.
    """
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=apart)
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as exc:
            line = reader.line_num + first - 1
            words = (
                f"line {line}: a cell is longer than {LONGEST_CELL} characters; close its "
                "quotation mark"
                if "field larger" in str(exc)
                else f"line {line}: {exc}"
            )
            raise bad_table(source, words) from None
        yield Row(reader.line_num + first - 1, [c.strip() for c in cells])


def cells_of(line: str, apart: str) -> list[str]:
    """Return the cells of a single line; none where it is no row."""
    try:
        return [c.strip() for c in next(csv.reader([line], delimiter=apart), [])]
    except csv.Error:
        return []


def number(cell: str, apart: str) -> float:
    """Return the number in a cell, NaN for none; a decimal comma where the comma parts no cells."""
    try:
        return float(cell.replace(",", ".") if apart != "," else cell)
    except ValueError:
        return math.nan


def bad_table(source: str, words: str) -> SpecError:
    """Return the error for a table that cannot be read."""
    return refused("bad-csv", shown(source), shown(" ".join(words.split()))[:400])
