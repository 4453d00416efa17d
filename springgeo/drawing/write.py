"""A spring's drawing as the contents of a file."""

from __future__ import annotations

from typing import Literal, get_args

from springgeo.drawing.dxf import dxf_bytes
from springgeo.drawing.figure import figure_bytes
from springgeo.drawing.sheet import Paper, sheet
from springgeo.optional import need
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary

Format = Literal["pdf", "svg", "dxf", "png"]
FORMATS: tuple[Format, ...] = get_args(Format)


def drawing_bytes(model: SpringModel, summary: Summary, kind: Format, paper: Paper = "A4") -> bytes:
    """Return the drawing of a spring, the same bytes for the same spring.

    Parameters
    ----------
    model : SpringModel
    summary : Summary
    kind : {"pdf", "svg", "dxf", "png"}
    paper : {"A4", "A3", "Letter"}

    Raises
    ------
    MissingLibraryError
        shapely, matplotlib or ezdxf is not installed.
    """
    need("ezdxf" if kind == "dxf" else "matplotlib", "a drawing", "drawing")
    page = sheet(model, summary, paper)
    return dxf_bytes(page) if kind == "dxf" else figure_bytes(page, kind)
