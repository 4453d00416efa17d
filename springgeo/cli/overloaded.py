"""The lines that say what an overload leaves of a spring."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.cli.rows import rows
from springgeo.results.overload import AtLimit, Overload
from springgeo.summary.overload.rows import FROM, THROUGH, TITLE, TO, Row, limits, overload_rows
from springgeo.text.shown import PLAIN, Shown


def lines(o: Overload, shown: Shown = PLAIN) -> Iterator[str]:
    """Yield the answer as a table, from the least to the greatest published elastic limit."""
    yield f"{shown.text(TITLE)}:"
    table = [["", shown.text(FROM), shown.text(TO), ""]]
    for row in overload_rows(o):
        cells = [_cell(row, side, shown) for side in (o.least, o.greatest)]
        table.append([shown.text(row.words), *cells, shown.unit(row.kind)])
    yield from rows(table)
    yield shown.text(limits(o))
    yield from (shown.text(remark) for remark in o.remarks)


def _cell(row: Row, side: AtLimit, shown: Shown) -> str:
    value = row.of(side)
    if value is not None:
        return shown.value(value)
    through = side.yields_through and row.path.startswith("set.")
    return shown.text(THROUGH) if through else "-"
