"""Drawings of a spring for its maker: PDF, SVG and DXF. Needs the extra ``drawing``."""

from springgeo.drawing.sheet import PAPERS, Paper, sheet
from springgeo.drawing.write import FORMATS, Format, drawing_bytes
from springgeo.optional import MissingLibraryError

__all__ = [
    "FORMATS",
    "PAPERS",
    "Format",
    "MissingLibraryError",
    "Paper",
    "drawing_bytes",
    "sheet",
]
