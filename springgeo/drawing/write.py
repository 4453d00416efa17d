"""A spring's drawing as the contents of files."""

from __future__ import annotations

from pathlib import Path
from typing import Literal, cast, get_args

from springgeo.drawing.dxf import dxf_bytes
from springgeo.drawing.figure import figure_bytes, pdf_bytes
from springgeo.drawing.page import Page
from springgeo.drawing.sheet import SHOWN, sheets
from springgeo.errors import FileError
from springgeo.optional import need
from springgeo.publish.atomic import atomic_write
from springgeo.specification.making import Paper
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.shown import Shown

Format = Literal["pdf", "svg", "dxf", "png"]
FORMATS: tuple[Format, ...] = get_args(Format)


def drawing_files(
    model: SpringModel,
    summary: Summary,
    kind: Format,
    paper: Paper = "A4",
    shown: Shown = SHOWN,
) -> list[bytes]:
    """Return the contents of the files that a drawing takes: one, or one a sheet beside PDF.

    The same bytes for the same spring.

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
    need("ezdxf" if kind == "dxf" else "matplotlib", "a drawing", "drawing")
    return written(sheets(model, summary, paper, shown), kind)


def written(pages: list[Page], kind: Format) -> list[bytes]:
    """Return pages as the contents of files."""
    if kind == "pdf":
        return [pdf_bytes(pages)]
    return [dxf_bytes(page) if kind == "dxf" else figure_bytes(page, kind) for page in pages]


def write_drawing(
    model: SpringModel, summary: Summary, path: Path, paper: Paper | None, shown: Shown = SHOWN
) -> tuple[Path, ...]:
    """Write the drawing of a spring, whole or not at all each, and return the files.

    Parameters
    ----------
    model : SpringModel
    summary : Summary
    path : Path
        Its ending says the format.
    paper : {"A4", "A3", "Letter"} or None
        That of the specification, or A4, if None.
    shown : Shown

    Raises
    ------
    FileError
        The name has another ending, or a file cannot be written.
    MissingLibraryError
        shapely, matplotlib or ezdxf is not installed.
    """
    sheet = paper or model.spec.drawing.sheet
    return publish_pages(path, drawing_files(model, summary, kind_of(path), sheet, shown))


def kind_of(path: Path, *others: str) -> Format:
    """Return the format that a file's ending says; raises FileError."""
    kind, known = path.suffix.lower().removeprefix("."), (*FORMATS, *others)
    if kind not in known:
        raise FileError(f"'{path}' must end in {', '.join(f'.{k}' for k in known)}")
    return cast("Format", kind)


def publish_pages(path: Path, contents: list[bytes]) -> tuple[Path, ...]:
    """Write the contents of files under the names of `file_names`; raises FileError."""
    names = file_names(path, len(contents))
    for name, content in zip(names, contents, strict=True):
        atomic_write(name, content)
    return tuple(names)


def file_names(path: Path, count: int) -> list[Path]:
    """Return the names of ``count`` files: ``sheet.svg``, ``sheet-2.svg`` and so on."""
    more = [path.with_name(f"{path.stem}-{k}{path.suffix}") for k in range(2, count + 1)]
    return [path, *more]
