"""Entities of a STEP file that say the same are written once.

The kernel writes every control point of every face, seam and parameter line anew, though faces
share their rims and all turns their parameter lines. Points, directions, lines in the parameter
plane and their contexts carry no identity of their own: what refers to one may refer to its equal.
"""

from __future__ import annotations

import re
from pathlib import Path

# from what refers to nothing to what refers to the kinds before it
_KINDS = (
    ("CARTESIAN_POINT(", "DIRECTION(", "( GEOMETRIC_REPRESENTATION_CONTEXT(2)"),
    ("VECTOR(", "AXIS2_PLACEMENT_2D("),
    # the last: a straight piece that ends where its edge does
    ("LINE(", "B_SPLINE_CURVE_WITH_KNOTS('',1,"),
    ("DEFINITIONAL_REPRESENTATION(",),
)
_EVERY = tuple(kind for kinds in _KINDS for kind in kinds)
_DATA = "DATA;\n"
# an entity's number, and what it says after
_ENTITY = re.compile(r"#(\d+) = ")
# what stands in quotation marks refers to nothing, and stays as the kernel has broken it
_PIECE = re.compile(r"'[^']*'|#(\d+)|\n\s*")


def share_equal(path: Path) -> None:
    """Write a file of the kernel's anew, each of its points, directions and lines once.

    The others keep their numbers and their order.
    """
    head, data, body = path.read_text("ascii").partition(_DATA)
    path.write_text(head + data + shared(body), "ascii")


def shared(data: str) -> str:
    """Return the statements of a data section, equal ones once, each on one line."""
    statements = data.split(";\n")
    known: dict[str, tuple[int, str]] = {}
    for i, statement in enumerate(statements):
        found = _ENTITY.match(statement)
        if found is not None and statement.startswith(_EVERY, found.end()):
            known[found[1]] = i, _told(statement[found.end() :], {})
    instead: dict[str, str] = {}
    for kinds in _KINDS:
        first: dict[str, str] = {}
        for number, (_, text) in known.items():
            if text.startswith(kinds):
                kept = first.setdefault(_told(text, instead), number)
                if kept != number:
                    instead[number] = kept
    gone = {known[number][0] for number in instead}
    return ";\n".join(
        _compact(statement, instead) for i, statement in enumerate(statements) if i not in gone
    )


def _told(text: str, instead: dict[str, str]) -> str:
    """Return a text on one line that refers to what stands instead of others."""

    def other(found: re.Match[str]) -> str:
        piece, number = found[0], found[1]
        if number is not None:
            return f"#{instead[number]}" if number in instead else piece
        return piece if piece[0] == "'" else ""

    return _PIECE.sub(other, text)


def _compact(statement: str, instead: dict[str, str]) -> str:
    found = _ENTITY.match(statement)
    if found is None:
        return statement
    return f"#{found[1]}={_told(statement[found.end() :], instead)}"
