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
    ("LINE(",),
    ("DEFINITIONAL_REPRESENTATION(",),
)
_EVERY = tuple(kind for kinds in _KINDS for kind in kinds)
_DATA = "DATA;\n"
# an entity's number and what it says; the kernel breaks long lines, but not these kinds' strings
_ENTITY = re.compile(r"#(\d+) = ")
# what stands in quotation marks refers to nothing
_REFERENCE = re.compile(r"'[^']*'|#(\d+)")


def share_equal(path: Path) -> None:
    """Write a file of the kernel's anew, each of its points, directions and lines once.

    The others keep their numbers and their order.
    """
    head, data, body = path.read_text("ascii").partition(_DATA)
    path.write_text(head + data + shared(body), "ascii")


def shared(data: str) -> str:
    """Return the statements of a data section, equal ones once and without blanks round ``=``."""
    statements = data.split(";\n")
    known: dict[str, tuple[int, str]] = {}
    for i, statement in enumerate(statements):
        found = _ENTITY.match(statement)
        if found is not None and statement.startswith(_EVERY, found.end()):
            text = re.sub(r"\n\s*", "", statement[found.end() :])
            known[found[1]] = i, text
            statements[i] = f"#{found[1]} = {text}"
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
        _compact(_told(statement, instead))
        for i, statement in enumerate(statements)
        if i not in gone
    )


def _told(text: str, instead: dict[str, str]) -> str:
    """Return a text that refers to what stands instead of others."""
    if "#" not in text or not instead:
        return text

    def other(found: re.Match[str]) -> str:
        number = found[1]
        return found[0] if number is None or number not in instead else f"#{instead[number]}"

    return _REFERENCE.sub(other, text)


def _compact(statement: str) -> str:
    found = _ENTITY.match(statement)
    return statement if found is None else f"#{found[1]}={statement[found.end() :]}"
