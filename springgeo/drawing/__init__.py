"""Drawings of a spring for its maker: PDF, SVG and DXF. Needs the extra ``drawing``."""

from springgeo.drawing.sheet import PAPERS, sheet, sheets
from springgeo.drawing.write import FORMATS, Format, drawing_files, file_names
from springgeo.optional import MissingLibraryError
from springgeo.specification.making import Paper

__all__ = [
    "FORMATS",
    "PAPERS",
    "Format",
    "MissingLibraryError",
    "Paper",
    "drawing_files",
    "file_names",
    "sheet",
    "sheets",
]
