"""Libraries of the extras: a missing one is named, with the command for wheel and checkout."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from springgeo.optional import MissingLibraryError, need

ROOT = Path(__file__).parent.parent / "springgeo"
EXTRAS = {
    *("matplotlib", "shapely", "ezdxf", "pyarrow", "distributed", "ray", "pandas", "anywidget"),
    *("starlette", "uvicorn", "watchfiles", "ruamel", "meshio"),
}


def test_both_ways_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "shapely", None)
    with pytest.raises(MissingLibraryError) as caught:
        need("shapely", "a drawing", "drawing")
    text = str(caught.value)
    assert text.startswith("a drawing needs shapely, which is not installed; ")
    assert "pip install 'springgeo[drawing]'" in text
    assert "pip install '.[drawing]'" in text
    assert isinstance(caught.value, ImportError)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        ("import not_here_either", "which lacks not_here_either"),
        (
            "raise ImportError('libx.so:\\nno such file')",
            "cannot be loaded (libx.so: no such file)",
        ),
    ],
)
def test_a_library_that_breaks_is_not_called_absent(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, body: str, words: str
) -> None:
    (tmp_path / "broken_library.py").write_text(body)
    monkeypatch.syspath_prepend(str(tmp_path))
    with pytest.raises(MissingLibraryError) as caught:
        need("broken_library", "a plot", "plots")
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_no_room_asks_for_them_by_itself() -> None:
    """matplotlib's settings, read once the library has been asked for, are the one exception."""
    found = [
        f"{file.relative_to(ROOT)}: {name}"
        for file in ROOT.rglob("*.py")
        for node in _walked(ast.parse(file.read_text(encoding="utf-8")))
        for name in _imported(node)
        if name.partition(".")[0] in EXTRAS
    ]
    assert found == ["chart/mpl.py: matplotlib"]


def _walked(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what runs: names that a type checker alone reads are not asked for."""
    yield node
    for inner in ast.iter_child_nodes(node):
        if not (isinstance(inner, ast.If) and ast.unparse(inner.test) == "TYPE_CHECKING"):
            yield from _walked(inner)


def _imported(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [a.name for a in node.names]
    return [node.module or ""] if isinstance(node, ast.ImportFrom) else []
