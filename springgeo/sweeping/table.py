"""A table of columns: numpy arrays by name."""

from __future__ import annotations

import html
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
import numpy.typing as npt

from springgeo.optional import need

Column = npt.NDArray[Any]
SHOWN = 12


class Table(Mapping[str, Column]):
    """Columns ``(n,)`` by name, all of one length; a mapping that also knows rows and pandas."""

    def __init__(self, columns: Mapping[str, Column]) -> None:
        self._columns = dict(columns)
        self.rows = len(next(iter(self._columns.values()), ()))
        for column in self._columns.values():
            column.setflags(write=False)

    def __getitem__(self, name: str) -> Column:
        """Return a column."""
        return self._columns[name]

    def __iter__(self) -> Iterator[str]:
        """Yield the names of the columns."""
        return iter(self._columns)

    def __len__(self) -> int:
        """Return how many columns there are; ``rows`` counts the rows."""
        return len(self._columns)

    def row(self, number: int) -> dict[str, object]:
        """Return a row by its number from 0."""
        return {name: column[number] for name, column in self._columns.items()}

    def where(self, mask: npt.ArrayLike) -> Table:
        """Return the rows that a mask ``(n,) bool``, or a list of numbers, picks."""
        picked = np.asarray(mask)
        return Table({name: column[picked] for name, column in self._columns.items()})

    def to_pandas(self) -> Any:
        """Return a pandas DataFrame; raises MissingLibraryError without pandas."""
        return need("pandas", "to_pandas()", "pandas").DataFrame(dict(self._columns))

    def __repr__(self) -> str:
        return f"<Table of {self.rows} rows: {', '.join(self._columns)}>"

    def _repr_html_(self) -> str:
        """Show the first rows in a notebook."""
        head = "".join(f"<th>{html.escape(name)}</th>" for name in self)
        body = "".join(
            "<tr>" + "".join(f"<td>{html.escape(_shown(v))}</td>" for v in row.values()) + "</tr>"
            for row in map(self.row, range(min(self.rows, SHOWN)))
        )
        more = f"<p>{self.rows - SHOWN} more rows</p>" if self.rows > SHOWN else ""
        return f"<table><tr>{head}</tr>{body}</table>{more}"


def _shown(value: object) -> str:
    return f"{value:.5g}" if isinstance(value, float) else str(value)
