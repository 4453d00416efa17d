"""The maker's page as files: sheets, or data alone as JSON or CSV."""

from __future__ import annotations

from pathlib import Path

from springgeo.drawing.maker_page import maker_pages
from springgeo.drawing.write import kind_of, publish_pages, written
from springgeo.making import bending_csv, inspection_csv, maker_data, making_json
from springgeo.publish.atomic import atomic_write
from springgeo.specification.making import TRADES, Paper
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.shown import Shown

DATA = ("json", "csv")


def write_making(
    model: SpringModel,
    summary: Summary,
    path: Path,
    paper: Paper | None,
    tolerance: float,
    shown: Shown,
) -> tuple[Path, ...]:
    """Write how a spring is made and return the files.

    CSV: the bending table, and beside it ``<name>-inspection.csv``. JSON: everything, in mm, N,
    MPa, deg. Else sheets, as ``drawing.write.write_drawing`` writes them, and with what it raises.
    """
    ending, kind = path.suffix.lower(), kind_of(path, *DATA)
    sheet = paper or model.spec.drawing.sheet
    data = maker_data(model, summary, TRADES[sheet], tolerance)
    if ending == ".json":
        files = [(path, making_json(data))]
    elif ending == ".csv":
        beside = path.with_name(f"{path.stem}-inspection{path.suffix}")
        files = [(path, bending_csv(data)), (beside, inspection_csv(data))]
    else:
        return publish_pages(path, written(maker_pages(model, summary, data, sheet, shown), kind))
    for target, text in files:
        atomic_write(target, text.encode("utf-8"))
    return tuple(target for target, _ in files)
