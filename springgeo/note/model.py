"""A calculation note as data: blocks that every format writes in its own way."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from springgeo.worked.expression import Node


@dataclass(frozen=True)
class Heading:
    """A numbered heading."""

    text: str


@dataclass(frozen=True)
class Text:
    """A paragraph; ``strong`` for a verdict."""

    text: str
    strong: bool = False


@dataclass(frozen=True)
class Bullets:
    """A list."""

    items: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """A table; the first column is text, the others stand to the right but those in ``words``."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""
    words: tuple[int, ...] = ()


@dataclass(frozen=True)
class FormulaLine:
    """A formula in symbols, with values put in, and its result.

    ``names``: the value that stands for each name. ``inside``: whether the formula's range is
    kept; None where it states none. ``point``: the decimal sign of the formula's own figures.
    """

    symbol: str
    words: str
    node: Node
    names: Mapping[str, str]
    result: str
    sources: str
    inside: bool | None = None
    point: str = "."

    @property
    def told(self) -> str:
        """What it is and its sources; marked where its range is not kept."""
        out = "" if self.inside in (None, True) else " (!)"
        return f"{self.words}{out} {self.sources}".strip()


@dataclass(frozen=True)
class Formulas:
    """Lines of formulas."""

    lines: tuple[FormulaLine, ...]


@dataclass(frozen=True)
class Picture:
    """A drawing as SVG."""

    svg: str
    caption: str
    name: str
    width: float = 1.0


@dataclass(frozen=True)
class Verbatim:
    """A text as it was written."""

    text: str


Block = Heading | Text | Bullets | Table | Formulas | Picture | Verbatim


@dataclass(frozen=True)
class Note:
    """A calculation note.

    ``facts`` stand in its head: verdict, digest, version; ``foot`` at the foot of every page;
    ``paper`` is named as Typst does; ``words`` are what the formats themselves say: of pages.
    """

    title: str
    subtitle: str
    facts: tuple[tuple[str, str], ...]
    blocks: tuple[Block, ...]
    language: str
    foot: str
    paper: str = "a4"
    words: Mapping[str, str] = field(default_factory=dict)


def numbered(note: Note) -> Iterator[tuple[Block, int]]:
    """Yield the blocks, each with the number of the heading it is under."""
    number = 0
    for block in note.blocks:
        number += isinstance(block, Heading)
        yield block, number
