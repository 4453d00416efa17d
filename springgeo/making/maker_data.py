"""Everything of the maker's page as data, and as JSON and CSV: mm, N, MPa, deg, degC."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterator
from dataclasses import asdict, dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.making.bending import Row, bending_table, first_plane, replay
from springgeo.making.inspection import Check, inspection
from springgeo.making.winding import Winding, winding
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.json_value import Json
from springgeo.trade.dimension_tolerance import Trade

SCHEMA = "springgeo-making/1"
# how far the bent wire may lie from the centreline, mm
TOLERANCE = 1e-2


@dataclass(frozen=True, eq=False)
class MakerData:
    """What is needed at the machine and at the bench.

    Attributes
    ----------
    cut_length : float, mm
        Of the wire, without what a machine needs for holding.
    rows : tuple of Row
        The bending table.
    points : (n + 1, 3) float, mm
        Where the wire starts, and where each row ends, in the spring's frame.
    tangent, plane : (3,) float
        Direction of the wire at the start, and of its first bend.
    tolerance : float, mm
        Of the table.
    """

    name: str
    cut_length: float
    rows: tuple[Row, ...]
    points: Array
    tangent: Array
    plane: Array
    tolerance: float
    winding: Winding
    inspection: tuple[Check, ...]


def maker_data(
    model: SpringModel, summary: Summary, trade: Trade, tolerance: float = TOLERANCE
) -> MakerData:
    """Return the maker's data of a spring.

    Parameters
    ----------
    model : SpringModel
    summary : Summary
        Of the same spring.
    trade : {"metric", "us"}
        Whose tolerances the inspection asks for.
    tolerance : float, mm
        How far any place on the wire, bent by the table, may come out.
    """
    path = model.geometry.path
    rows, plane = bending_table(path, tolerance), first_plane(path)
    at = np.zeros(1)
    start, tangent = path.point(at)[0], path.tangent(at)[0]
    places, _ = replay(rows, tangent, plane)
    return MakerData(
        name=summary.name,
        cut_length=path.length,
        rows=rows,
        points=np.vstack([start, places + start]),
        tangent=tangent,
        plane=plane,
        tolerance=tolerance,
        winding=winding(model, summary),
        inspection=inspection(model, summary, trade),
    )


HEADER = ("step", "piece", "feed", "rotate", "bend", "radius", "twist", "x", "y", "z")


def bending_rows(data: MakerData) -> Iterator[tuple[object, ...]]:
    """Yield the bending table under ``HEADER``: mm and deg; radius None for straight wire."""
    for k, (row, end) in enumerate(zip(data.rows, data.points[1:].tolist(), strict=True), 1):
        turns = [math.degrees(x) for x in (row.rotate, row.bend, row.twist)]
        rotate, bend, twist, x, y, z = (_whole(v) for v in (*turns, *end))
        yield k, row.label, row.feed, rotate, bend, row.radius, twist, x, y, z


def _whole(value: float) -> float:
    """Return a number without the dust of rounding, which machines differ in."""
    return round(value, 9) + 0.0


def making_json(data: MakerData) -> str:
    """Return the maker's data as JSON, the same for the same spring."""
    content = {
        "schema_version": SCHEMA,
        "name": data.name,
        "units": "mm, N, MPa, deg, degC",
        "cut_length": data.cut_length,
        "bending": {
            "tolerance": data.tolerance,
            "start": data.points[0].tolist(),
            "tangent": data.tangent.tolist(),
            "plane": data.plane.tolist(),
            "steps": [dict(zip(HEADER, row, strict=True)) for row in bending_rows(data)],
        },
        "winding": {
            "note": "estimates by elastic-plastic bending; makers find the arbor by trial",
            **_winding(data.winding),
        },
        "inspection": [asdict(check) for check in data.inspection],
    }
    return json.dumps(content, indent=2, ensure_ascii=True, allow_nan=False) + "\n"


def _winding(w: Winding) -> dict[str, Json]:
    return {
        "source": w.source,
        "wound": [asdict(x) for x in w.wound],
        "stress_relief": None if w.relief is None else w.relief._asdict(),
        "initial_tension_loss": None if w.loss is None else w.loss._asdict(),
        "initial_tension_as_wound": w.tension,
    }


def bending_csv(data: MakerData) -> str:
    """Return the bending table as CSV: lengths mm, angles deg; the points are ends of rows."""
    units = {"feed": "mm", "radius": "mm", "x": "mm", "y": "mm", "z": "mm"}
    units |= dict.fromkeys(("rotate", "bend", "twist"), "deg")
    header = [f"{name}_{units[name]}" if name in units else name for name in HEADER]
    return _csv(header, bending_rows(data))


def inspection_csv(data: MakerData) -> str:
    """Return the inspection list as CSV, with an empty column for what is measured."""
    header = ["symbol", "what", "kind", "nominal", "low", "high", "how", "measured"]
    rows = (
        (c.symbol, c.what, c.kind, c.nominal, c.low, c.high, c.how, "") for c in data.inspection
    )
    return _csv(header, rows)


def _csv(header: list[str], rows: Iterator[tuple[object, ...]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow(
            [f"{x:.9g}" if isinstance(x, float) else "" if x is None else x for x in row]
        )
    return out.getvalue()
