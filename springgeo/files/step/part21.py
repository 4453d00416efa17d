"""Entities of a STEP file as text, added behind those the kernel has written.

The kernel's bindings take milliseconds for each entity, and know no way to write user attributes;
as text they take microseconds. Numbers follow on from the kernel's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from springgeo.files.step.text import escape

_TAIL = b"ENDSEC;\nEND-ISO-10303-21;"


class Entities:
    """Entities in the order they are added, numbered from ``first`` on."""

    def __init__(self, first: int) -> None:
        self._first = first
        self._texts: list[str] = []

    def add(self, text: str) -> str:
        """Add an entity, keyword and parameters; return what others refer to it by."""
        self._texts.append(text)
        return f"#{self._first + len(self._texts) - 1}"

    def text(self) -> str:
        """Return all of them as lines of the data section."""
        return "".join(f"#{n} = {text};\n" for n, text in enumerate(self._texts, self._first))


def string(text: str) -> str:
    """Return any text as a string of the file, escaped."""
    return f"'{escape(text)}'"


def real(number: float) -> str:
    """Return a finite number as a real of the file: with a point always, every digit."""
    digits, _, power = repr(float(number)).partition("e")
    point = digits if "." in digits else f"{digits}."
    return f"{point.removesuffix('0') if point.endswith('.0') else point}" + (
        f"E{int(power):+03d}" if power else ""
    )


def listed(items: Iterable[str]) -> str:
    """Return a list of the file."""
    return f"({','.join(items)})"


def statements(data: str) -> Iterator[str]:
    """Yield the statements of a data section, each but for its semicolon; last what is no more one.

    A line may end in a semicolon within quotation marks, where the kernel has broken a name.
    """
    held = ""
    for piece in data.split(";\n"):
        held = f"{held};\n{piece}" if held else piece
        if held.count("'") % 2 == 0:
            yield held
            held = ""
    if held:
        yield held


def append(path: Path, entities: Entities) -> bool:
    """Write entities at the end of a file's data section; return whether it had one."""
    with path.open("r+b") as file:
        file.seek(max(0, path.stat().st_size - 64))
        start, tail = file.tell(), file.read()
        at = tail.find(_TAIL)
        if at < 0:
            return False
        file.seek(start + at)
        file.truncate()
        file.write(entities.text().encode("ascii") + tail[at:])
    return True
