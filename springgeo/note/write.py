"""The note as a file: PDF, HTML or Markdown, complete or not at all."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from springgeo.computed import ComputedSpring
from springgeo.errors import FileError
from springgeo.note.build import note
from springgeo.note.html import html
from springgeo.note.markdown import markdown
from springgeo.note.typst import pdf
from springgeo.publish.atomic import atomic_write
from springgeo.text.shown import Shown

ENDINGS = (".pdf", ".html", ".md")


def write(spring: ComputedSpring, path: str | PathLike[str], shown: Shown | None = None) -> Path:
    """Write the note on a spring; the same spring gives the same bytes.

    Raises
    ------
    FileError
        The name has another ending, or the file cannot be written.
    MissingLibraryError
        It is to be a PDF, and the extra ``note`` is not installed.
    """
    target = Path(path)
    ending = target.suffix.lower()
    if ending not in ENDINGS:
        raise FileError(f"'{target}' must end in {', '.join(ENDINGS[:-1])} or {ENDINGS[-1]}")
    made = note(spring, shown)
    data = pdf(made) if ending == ".pdf" else None
    text = "" if data is not None else html(made) if ending == ".html" else markdown(made)
    atomic_write(target, data if data is not None else text.encode("utf-8"))
    return target
