"""The lines that say what an overload leaves of a spring."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from springgeo.cli.rows import rows
from springgeo.results.overload import AtLimit, Overload
from springgeo.text import quantity as q
from springgeo.text.quantity import Quantity
from springgeo.text.shown import PLAIN, Shown

_ROWS = (
    ("load", "load", q.force),
    ("length under it", "length", q.length),
    ("free length gained", "lengthened", q.length),
    ("  per cent", "share_percent", q.number),
    ("first hook opened by", "opened_a", q.length),
    ("second hook opened by", "opened_b", q.length),
    ("initial tension left", "initial_tension", q.force),
)


def lines(o: Overload, shown: Shown = PLAIN) -> Iterator[str]:
    """Yield the answer as a table, from the least to the greatest published elastic limit."""
    sides = o.least, o.greatest
    units = f"{shown.unit('force')}, {shown.unit('length')}, {shown.unit('stress')}"
    yield f"overload and set, an estimate ({units}; by the least and the greatest elastic limit)"
    table = [["", "from", "to"]]

    def row(words: str, values: list[Quantity | str]) -> None:
        table.append([words, *(x if isinstance(x, str) else shown.value(x) for x in values)])

    row("elastic limit in tension", [q.stress(s.tension) for s in sides])
    row("elastic limit in torsion", [q.stress(s.torsion) for s in sides])
    if o.load is not None or o.length is not None:
        for words, name, kind in _ROWS:
            row(words, [_cell(s, name, kind) for s in sides])
    cost = [s.costs for s in sides]
    row(
        f"load that costs {o.costs_percent:g} % of the length",
        ["-" if c is None else q.force(c.load) for c in cost],
    )
    row("  drawn to", ["-" if c is None else q.length(c.length) for c in cost])
    yield from rows(table)
    yield f"elastic limits: {o.source} ({o.known})"
    yield from (shown.text(remark) for remark in o.remarks)


def _cell(side: AtLimit, name: str, kind: Callable[[float], Quantity]) -> Quantity | str:
    if side.set is None:
        return "yields through"
    value = getattr(side.set, name)
    # a set is not worth more than three figures
    return "-" if value is None else kind(value if abs(value) > 10 else float(f"{value:.3g}"))
