"""What the lanes compute: plain arguments in, plain answers out; refusals are answers too."""

from __future__ import annotations

import base64
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from springgeo.desk.lane import Answer
from springgeo.desk.numbers import findings_shown, near, whole
from springgeo.desk.shape import shape
from springgeo.desk.source import spring_of
from springgeo.desk.styles import style_card
from springgeo.errors import SpecError, SpringgeoError
from springgeo.text.shown import Shown

if TYPE_CHECKING:
    from springgeo.drawing.write import Format

# text, folder, and the file's name
Source = tuple[str, str, str]


def near_of(source: Source, shown: Shown) -> Answer:
    """Return the numbers that are there at once."""
    return _answered(lambda: near(spring_of(*source), shown), shown)


def shape_of(source: Source, load: float, rough: bool, shown: Shown) -> Answer:
    """Return the spring's state under a load, N, finely or ``rough``."""
    return _answered(lambda: shape(spring_of(*source), load, shown, rough=rough), shown)


def whole_of(source: Source, shown: Shown) -> Answer:
    """Return everything of the summary."""
    return _answered(lambda: whole(spring_of(*source), shown), shown)


def style_of(source: Source, side: str, name: str, load: float, shown: Shown) -> Answer:
    """Return one end style at one end."""
    return _answered(lambda: style_card(spring_of(*source), side, name, load, shown), shown)


def sheet_of(source: Source, shown: Shown) -> Answer:
    """Return the maker's sheet as SVG, its first page."""
    return _answered(lambda: {"svg": _sheet(source, shown)}, shown)


def file_of(source: Source, kind: str, shown: Shown) -> Answer:
    """Return a file to be saved: its ``name``, and its bytes as ``base64``."""
    return _answered(lambda: _file(source, kind, shown), shown)


def _answered(call: Callable[[], Answer], shown: Shown) -> Answer:
    try:
        return call()
    except SpecError as exc:
        return {"refused": findings_shown(exc.findings, shown)}
    except (SpringgeoError, MemoryError) as exc:
        return {"refused": [{"severity": "error", "field": "", "message": str(exc), "code": ""}]}


_SHEETS: tuple[Format, ...] = ("pdf", "svg", "dxf")


def _sheet(source: Source, shown: Shown) -> str:
    return _drawn(source, "svg", shown)[0].decode("utf-8")


def _drawn(source: Source, kind: Format, shown: Shown) -> list[bytes]:
    from dataclasses import replace

    from springgeo.drawing import drawing_files

    spring = spring_of(*source)
    paper = spring.spec.drawing.paper or "A4"
    seen = replace(shown, typeset=True)
    return list(drawing_files(spring.model, spring.summary(), kind, paper, seen))


def _file(source: Source, kind: str, shown: Shown) -> Answer:
    from springgeo.report.page import page

    spring, stem = spring_of(*source), Path(source[2]).stem
    if kind == "html":
        return _named(f"{stem}.html", page(spring, shown).encode("utf-8"))
    for sheet in _SHEETS:
        if kind == sheet:
            return _named(f"{stem}-sheet.{kind}", _drawn(source, sheet, shown)[0])
    return _built(source, kind)


def _built(source: Source, kind: str) -> Answer:
    from springgeo.files.publish.bundle import export_bundle

    spring = spring_of(*source)
    with tempfile.TemporaryDirectory(prefix="springgeo-") as folder:
        made = export_bundle(
            spring.model, Path(folder), formats=(kind,), summary=spring.summary()
        ).files
        ending = f".{kind}"
        (file,) = [p for p in made if p.suffix.lower() == ending][:1]
        return _named(file.name, file.read_bytes())


def _named(name: str, data: bytes) -> Answer:
    return {"name": name, "base64": base64.b64encode(data).decode("ascii")}
