"""Entities of a STEP file that say the same are written once.

The kernel writes every control point of every face, seam and parameter line anew, though faces
share their rims and all turns their parameter lines. Points, directions, lines in the parameter
plane and their contexts carry no identity of their own: what refers to one may refer to its equal.
"""

from __future__ import annotations

import re
from pathlib import Path

from springgeo.files.step.part21 import statements

# from what refers to nothing to what refers to the kinds before it
_KINDS = (
    ("CARTESIAN_POINT(", "DIRECTION(", "( GEOMETRIC_REPRESENTATION_CONTEXT(2)"),
    ("VECTOR(", "AXIS2_PLACEMENT_2D("),
    # the last: a straight piece that ends where its edge does
    ("LINE(", "B_SPLINE_CURVE_WITH_KNOTS('',1,"),
    ("DEFINITIONAL_REPRESENTATION(",),
)
_DATA = "DATA;\n"
# an entity's number, and what it says after
_ENTITY = re.compile(r"(#\d+) = ")
# what stands in quotation marks refers to nothing, and stays as the kernel has broken it
_PIECE = re.compile(r"'[^']*'|\n\s*")
_QUOTED = re.compile(r"'[^']*'|#\d+")
_REFERENCE = re.compile(r"#\d+")


def share_equal(path: Path) -> None:
    """Write a file of the kernel's anew, each of its points, directions and lines once.

    The others keep their numbers and their order.
    """
    head, data, body = path.read_text("ascii").partition(_DATA)
    path.write_text(head + data + shared(body), "ascii")


def shared(data: str) -> str:
    """Return the statements of a data section, equal ones once, each on one line."""
    numbers: list[str] = []
    texts: list[str] = []
    for statement in statements(data):
        found = _ENTITY.match(statement)
        numbers.append(found[1] if found else "")
        texts.append(_on_one_line(statement[found.end() :]) if found else statement)
    instead: dict[str, str] = {}
    for kinds in _KINDS:
        first: dict[str, str] = {}
        for i, text in enumerate(texts):
            if text.startswith(kinds) and numbers[i]:
                kept = first.setdefault(_referring(text, instead), numbers[i])
                if kept != numbers[i]:
                    instead[numbers[i]] = kept
    return ";\n".join(
        f"{number}={_referring(text, instead)}" if number else text
        for number, text in zip(numbers, texts, strict=True)
        if number not in instead
    )


def _on_one_line(text: str) -> str:
    """Return a text without the line breaks that stand outside quotation marks."""
    if "\n" not in text:
        return text
    return _PIECE.sub(lambda found: found[0] if found[0][0] == "'" else "", text)


def _referring(text: str, instead: dict[str, str]) -> str:
    """Return a text that refers to what stands instead of others."""
    if "#" not in text:
        return text
    # most have nothing between their quotation marks: then only references are looked at
    empty = text.count("'") == 2 * text.count("''")
    pieces = _REFERENCE if empty else _QUOTED
    return pieces.sub(lambda found: instead.get(found[0], found[0]), text)
