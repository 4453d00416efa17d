"""The report's table of what an overload leaves of the spring."""

from __future__ import annotations

from springgeo.report.html import Markup
from springgeo.report.tables import table
from springgeo.report.value import Values
from springgeo.results.overload import AtLimit
from springgeo.summary import Summary
from springgeo.summary.overload.rows import FROM, THROUGH, TITLE, TO, Row, limits, overload_rows


def overload_table(s: Summary, v: Values) -> Markup:
    """Return the table and its remarks; nothing where the specification asks for none."""
    o = s.overload
    if o is None:
        return Markup("")
    sides = ("least", "greatest")
    rows = [
        [v.text(row.words), *(_cell(row, getattr(o, side), side, v) for side in sides)]
        for row in overload_rows(o)
    ]
    found = table(v.text(TITLE), ["", v.text(FROM), v.text(TO)], rows)
    remarks = Markup(" ").join(v.text(remark) for remark in (*o.remarks, limits(o)))
    return found + Markup("<p>{}</p>").format(remarks)


def _cell(row: Row, side: AtLimit, name: str, v: Values) -> Markup | str:
    if row.of(side) is None:
        through = side.yields_through and row.path.startswith("set.")
        return v.text(THROUGH) if through else Markup('<span class="none">–</span>')
    return v(f"overload.{name}.{row.path}", row.kind, 3)
