"""Every text of page and sheet that a catalogue must hold, read off the source.

``python -m tests.text.catalogued`` prints what a catalogue lacks, to be translated.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

from jinja2 import Environment, nodes

from springgeo.api import Spring
from springgeo.ends import registry
from springgeo.text.catalogue import catalogue
from springgeo.text.shown import LANGUAGES
from tests.text.data_texts import data_texts

ROOT = Path(__file__).parent.parent.parent / "springgeo"
# rooms whose texts stand on page or sheet; refusals of the others are for the terminal alone
ROOMS = (
    "report",
    "results",
    "summary",
    "fit",
    "plots",
    "chart",
    "checks",
    "text",
    "drawing",
    "making",
    "tolerance",
    "materials",
    "comparing",
    "desk",
    "note",
)
CALLS = {"said", "say", "word", "html"}
# fields of the specification that findings are about, as `springgeo.text.naming.subject` says them
FIELDS = (
    *("coils", "bend radius", "hole diameter", "angle", "diameter", "edge distance", "around"),
    *("over travel", "service", "cycles", "lengths", "loads", "wire", "ends", "groove width"),
    *("groove diameter", "thickness", "duty", "rate", "state", "temperature", "pin", "plate"),
    *("forcing frequency", "initial tension", "stud", "bore", "rod", "body", "length"),
)
# names of states and duties, which a specification or a fit has
NAMES = ("installed", "max", "free", "over-travel", "static", "cyclic", "infinite")


def messages() -> dict[str, str]:
    """Return every text with the place it stands at."""
    found: dict[str, str] = {}
    files = [p for room in ROOMS for p in sorted((ROOT / room).rglob("*.py"))]
    for path in [*files, ROOT / "api.py", ROOT / "cli" / "tolerated.py"]:
        for call in _calls(path):
            first = call.args[0]
            if isinstance(first, ast.Constant) and isinstance(first.value, str):
                found.setdefault(first.value, f"{path.relative_to(ROOT)}:{call.lineno}")
    for path in sorted(ROOT.glob("*/templates/*.html")):
        for text in _of_template(path):
            found.setdefault(text, path.name)
    for style in registry.styles().values():
        found.setdefault(style.title, f"end style {style.name}")
        for label in _labels(style.name):
            found.setdefault(label, f"piece of {style.name}")
    for text, where in data_texts().items():
        found.setdefault(text, where)
    found |= {text: "a field" for text in FIELDS if text not in found}
    found |= {text: "a name" for text in NAMES if text not in found}
    return found


def _labels(style: str) -> set[str]:
    """Return what the pieces of an end of this style are called, and what it holds."""
    data = {
        "wire": {"material": "astm-a228", "diameter": 1.0},
        "body": {"index": 8, "coils": 12},
        "ends": {"first": {"style": style}, "second": {"style": style}},
    }
    geometry = Spring.from_dict(data).model.geometry
    pieces = [p.label.partition(".")[2] or p.label for p in geometry.path.pieces]
    found = {
        x.replace("-", " ") for x in (*pieces, *(p.name.partition(".")[2] for p in geometry.parts))
    }
    return found | {size for part in geometry.parts for size, _ in part.sizes}


def _calls(path: Path) -> Iterator[ast.Call]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and node.args:
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            if name in CALLS:
                yield node


def _of_template(path: Path) -> Iterator[str]:
    tree = Environment(trim_blocks=True).parse(path.read_text(encoding="utf-8"))
    for call in tree.find_all(nodes.Call):
        if isinstance(call.node, nodes.Name) and call.node.name in CALLS and call.args:
            first = call.args[0]
            if isinstance(first, nodes.Const):
                yield first.value


if __name__ == "__main__":
    for language in LANGUAGES[1:]:
        for text, where in messages().items():
            if text not in catalogue(language):
                sys.stdout.write(f"{language}: {where}: {text!r}\n")
