"""The page as a file: complete or not at all."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from springgeo.api import Spring
from springgeo.files.publish.atomic import atomic_write
from springgeo.report.page import page
from springgeo.text.shown import Shown


def write(spring: Spring, path: str | PathLike[str], shown: Shown | None = None) -> Path:
    """Write the report on a spring as one HTML file and return its path.

    The same spring gives the same bytes. The file shows everything offline: no part of it asks
    the network for anything, and its policy forbids it to.

    Parameters
    ----------
    spring : Spring
    path : path
        Of the file; an existing one is replaced.
    shown : Shown, optional
        The reader's units and language; those of the specification if left out.

    Raises
    ------
    SpecError
        The specification's lengths lie below the free length.
    FileError
        The file cannot be written.
    """
    target = Path(path)
    atomic_write(target, page(spring, shown).encode("utf-8"))
    return target
