"""The page as a file: complete or not at all."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from springgeo.computed import ComputedSpring
from springgeo.publish.atomic import atomic_write
from springgeo.report.document import Sign
from springgeo.report.page import page
from springgeo.text.shown import Shown


def write(
    spring: ComputedSpring,
    path: str | PathLike[str],
    shown: Shown | None = None,
    *,
    number: int | None = None,
) -> Path:
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
    number : int, optional
        Of a page that is written again and again, at least 1: beside it a picture is written that
        is as wide, by which an open page sees that it is to load itself anew (`sign_of`).

    Raises
    ------
    SpecError
        The specification's lengths lie below the free length.
    FileError
        The file cannot be written.
    """
    target = Path(path)
    sign = None if number is None else Sign(sign_of(target).name, number)
    atomic_write(target, page(spring, shown, sign).encode("utf-8"))
    if sign is not None:
        atomic_write(sign_of(target), sign.svg().encode("ascii"))
    return target


def sign_of(page: Path) -> Path:
    """Return the path of the picture beside a page that is written again and again."""
    return page.with_suffix(".sign.svg")
