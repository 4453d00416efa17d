"""A note as DOCX: its Markdown by pandoc, formulas as such, pictures typeset by Typst."""

from __future__ import annotations

import os
import subprocess
import tempfile
from pathlib import Path
from typing import Any

from springgeo.errors import SpringgeoError
from springgeo.note import model as m
from springgeo.note.markdown import markdown
from springgeo.optional import need

# dots to the inch of a picture, and what pandoc is to read
_FINE = 220
_READS = "markdown+tex_math_dollars+pipe_tables-implicit_figures"
_PICTURE = '#set page(width: auto, height: auto, margin: 0pt)\n#image("{name}.svg")\n'


def docx(note: m.Note) -> bytes:
    """Return the note as DOCX, the same bytes for the same note.

    Raises
    ------
    MissingLibraryError
        The extra ``word`` is not installed.
    SpringgeoError
        pandoc refuses.
    """
    pandoc: Any = need("pypandoc", "a calculation note as DOCX", "word")
    typst: Any = need("typst", "a calculation note as DOCX", "word")
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for block in note.blocks:
            if isinstance(block, m.Picture):
                (place / f"{block.name}.svg").write_text(block.svg, encoding="utf-8")
                (place / "picture.typ").write_text(_PICTURE.format(name=block.name), "utf-8")
                typst.compile(
                    str(place / "picture.typ"),
                    output=str(place / f"{block.name}.png"),
                    root=folder,
                    ppi=_FINE,
                    ignore_system_fonts=True,
                )
        (place / "note.md").write_text(markdown(note, _linked), encoding="utf-8")
        command = [pandoc.get_pandoc_path(), "-f", _READS, "note.md", "-o", "note.docx"]
        command += ["-M", f"lang={note.language}"]
        # no time of day in the file
        ran = subprocess.run(
            command,
            cwd=place,
            env=os.environ | {"SOURCE_DATE_EPOCH": "0"},
            capture_output=True,
            text=True,
            check=False,
        )
        if ran.returncode:
            raise SpringgeoError(f"pandoc refuses the note: {' '.join(ran.stderr.split())[:200]}")
        return (place / "note.docx").read_bytes()


def _linked(picture: m.Picture) -> str:
    return f"{picture.name}.png"
