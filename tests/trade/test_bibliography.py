"""Every source that code and data name is in the bibliography."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import yaml

import springgeo
from springgeo.trade.bibliography import bibliography, works

ROOT = Path(springgeo.__file__).parent
# what looks like a published work: a standard's number, or a name before ``eq.``, ``ch.`` ...
STANDARD = re.compile(r"\b(?:EN|ISO|DIN|ASTM|ASME|JIS)\b(?: Guide)?[ -][A-Z]*[ -]?\d[\w.-]*")
AUTHOR = re.compile(r"\b([A-Z][a-zö]+) (?:eq\.|ch\.|sec\.|Table|Example|Fig\.)")


@cache
def sources() -> dict[str, str]:
    """Return every source with the file that names it."""
    found: dict[str, str] = {}
    for path in sorted(ROOT.rglob("*.py")):
        for text in _of_code(path):
            found.setdefault(text, path.name)
    for path in sorted(ROOT.rglob("*.yaml")):
        if path.name != "bibliography.yaml":
            for text in _of_data(yaml.safe_load(path.read_text(encoding="utf-8"))):
                found.setdefault(text, path.name)
    for path in sorted(ROOT.rglob("*.json")):
        for text in _of_data(json.loads(path.read_text(encoding="utf-8"))):
            found.setdefault(text, path.name)
    return found


def _of_code(path: Path) -> Iterator[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.ClassDef | ast.Module):
            text = " ".join((ast.get_docstring(node) or "").split())
            for m in re.finditer(r"Sources?: (.*?)(?:\. Known|\.$|\. Parameters|$)", text):
                yield m.group(1)
        if isinstance(node, ast.keyword) and node.arg == "source":
            value = node.value
            if isinstance(value, ast.Constant) and isinstance(value.value, str):
                yield value.value


def _of_data(x: Any) -> Iterator[str]:
    if isinstance(x, dict):
        for key, value in x.items():
            if key in ("source", "sources") and isinstance(value, str):
                yield value
            else:
                yield from _of_data(value)
    elif isinstance(x, list):
        for value in x:
            yield from _of_data(value)


def test_every_source_is_in_the_bibliography() -> None:
    every = sources()
    assert len(every) > 150
    missing = {s: f for s, f in every.items() if not works(s) and s != "not known"}
    assert not missing


def test_every_standard_and_author_named_has_a_reference_of_its_own() -> None:
    references = [w for w in bibliography() if w.published]
    for source, file in sources().items():
        for name in (*STANDARD.findall(source), *AUTHOR.findall(source)):
            assert any(w.match.search(name) for w in references), (name, source, file)


def test_every_work_is_named_somewhere() -> None:
    every = "\n".join((*sources(), *(p.read_text(encoding="utf-8") for p in ROOT.rglob("*.py"))))
    unused = [w.key for w in bibliography() if w.published and not w.match.search(every)]
    assert unused == []
