"""The note as a file: PDF, DOCX, HTML or Markdown, complete or not at all."""

from __future__ import annotations

from collections.abc import Callable
from os import PathLike
from pathlib import Path

from springgeo.computed import ComputedSpring
from springgeo.errors import FileError
from springgeo.note.build import note
from springgeo.note.docx import docx
from springgeo.note.html import html
from springgeo.note.markdown import markdown
from springgeo.note.model import Note
from springgeo.note.typst import pdf
from springgeo.publish.atomic import atomic_write
from springgeo.text.shown import Shown

_WRITERS: dict[str, Callable[[Note], bytes]] = {
    ".pdf": pdf,
    ".docx": docx,
    ".html": lambda made: html(made).encode("utf-8"),
    ".md": lambda made: markdown(made).encode("utf-8"),
}
ENDINGS = tuple(_WRITERS)


def write(spring: ComputedSpring, path: str | PathLike[str], shown: Shown | None = None) -> Path:
    """Write the note on a spring; the same spring gives the same bytes.

    Raises
    ------
    FileError
        The name has another ending, or the file cannot be written.
    MissingLibraryError
        It is to be a PDF or DOCX, and the extra ``note`` or ``word`` is not installed.
    """
    target = Path(path)
    ending = target.suffix.lower()
    if ending not in ENDINGS:
        raise FileError(f"'{target}' must end in {', '.join(ENDINGS[:-1])} or {ENDINGS[-1]}")
    made = note(spring, shown)
    atomic_write(target, _WRITERS[ending](made))
    return target
