"""A spring's drawing as the contents of files."""

from __future__ import annotations

from pathlib import Path
from typing import Literal, get_args

from springgeo.drawing.dxf import dxf_bytes
from springgeo.drawing.figure import figure_bytes, pdf_bytes
from springgeo.drawing.page import Page
from springgeo.drawing.sheet import SHOWN, sheets
from springgeo.optional import need
from springgeo.specification.making import Paper
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.shown import Shown

Format = Literal["pdf", "svg", "dxf", "png"]
FORMATS: tuple[Format, ...] = get_args(Format)


def drawing_bytes(
    model: SpringModel,
    summary: Summary,
    kind: Format,
    paper: Paper = "A4",
    shown: Shown = SHOWN,
) -> bytes:
    """Return the drawing of a spring, the same bytes for the same spring.

    A PDF holds all sheets; the other formats hold one, here the first: see `drawing_files`.

    Parameters
    ----------
    model : SpringModel
    summary : Summary
    kind : {"pdf", "svg", "dxf", "png"}
    paper : {"A4", "A3", "Letter"}
    shown : Shown

    Raises
    ------
    MissingLibraryError
        shapely, matplotlib or ezdxf is not installed.
    """
    return drawing_files(model, summary, kind, paper, shown)[0]


def drawing_files(
    model: SpringModel,
    summary: Summary,
    kind: Format,
    paper: Paper = "A4",
    shown: Shown = SHOWN,
) -> list[bytes]:
    """Return the contents of the files that a drawing takes: one, or one a sheet beside PDF."""
    need("ezdxf" if kind == "dxf" else "matplotlib", "a drawing", "drawing")
    return written(sheets(model, summary, paper, shown), kind)


def written(pages: list[Page], kind: Format) -> list[bytes]:
    """Return pages as the contents of files."""
    if kind == "pdf":
        return [pdf_bytes(pages)]
    return [dxf_bytes(page) if kind == "dxf" else figure_bytes(page, kind) for page in pages]


def file_names(path: Path, count: int) -> list[Path]:
    """Return the names of ``count`` files: ``sheet.svg``, ``sheet-2.svg`` and so on."""
    more = [path.with_name(f"{path.stem}-{k}{path.suffix}") for k in range(2, count + 1)]
    return [path, *more]
