"""The package: numpy alone, every formula with its source, every formula broadcasting."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import springgeo.mechanics as package

MODULES = [m.name for m in pkgutil.iter_modules(package.__path__)]
KNOWN = re.compile(r"Known:\s(read|from\smemory|common\spractice|derived|own\sestimate)\b")


def formulas() -> Iterator[tuple[str, Callable[..., Any]]]:
    for name in MODULES:
        if name in ("life", "spectrum"):  # whole models, tested in files of their own
            continue
        module = importlib.import_module(f"springgeo.mechanics.{name}")
        for label, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and not label.startswith("_"):
                yield f"{name}.{label}", function


def plain(result: Any) -> Any:
    """Return a result as one array, a tuple's fields along the first axis."""
    return (
        np.stack(np.broadcast_arrays(*result)) if isinstance(result, tuple) else np.asarray(result)
    )


FORMULAS = dict(formulas())


def test_a_fresh_interpreter_loads_numpy_alone() -> None:
    code = f"""
import sys
import numpy, numpy.typing
before = set(sys.modules)
from springgeo.mechanics import {", ".join(MODULES)}
new = {{m.split(".")[0] for m in set(sys.modules) - before}} - set(sys.stdlib_module_names)
print(*sorted(new - {{"springgeo"}}))
for heavy in ("scipy", "pydantic", "yaml", "OCP", "cadquery", "trimesh"):
    assert heavy not in sys.modules, heavy
"""
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, env=None
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == []


def test_the_package_lists_its_files() -> None:
    assert package.__doc__ is not None
    assert set(re.findall(r"^``(\w+)``", package.__doc__, re.MULTILINE)) == set(MODULES)


@pytest.mark.parametrize("name", FORMULAS)
def test_every_formula_names_its_source_and_how_it_is_known(name: str) -> None:
    text = inspect.getdoc(FORMULAS[name]) or ""
    assert "Source: " in re.sub(r"\s+", " ", text)
    assert KNOWN.search(text)


@pytest.mark.parametrize("name", FORMULAS)
def test_every_formula_gives_for_an_array_what_it_gives_for_numbers(name: str) -> None:
    """Each argument in turn and all together as arrays of five values."""
    function = FORMULAS[name]
    parameters = inspect.signature(function).parameters
    if any(p.annotation not in ("Value", "Range") for p in parameters.values()):
        assert name in {"endurance.zimmerli", "endurance.S_ew_norton"}
        return
    if "Range" in {p.annotation for p in parameters.values()}:
        return  # place_in_range: tested with its ranges
    rng = np.random.default_rng(3)
    columns = rng.uniform(2.0, 9.0, (len(parameters), 5))
    together = plain(function(*columns))
    for i in range(5):
        one = plain(function(*(float(v) for v in columns[:, i])))
        np.testing.assert_allclose(together[..., i], one, rtol=1e-12)
    for j in range(len(parameters)):
        mixed: list[Any] = [float(v) for v in columns[:, 0]]
        mixed[j] = columns[j]
        assert plain(function(*mixed)).shape[-1] == 5


def used() -> set[tuple[str, str]]:
    """Return what some file of the package takes from a file of formulas: that file, the name."""
    root = Path(package.__file__).parent
    found = set()
    for p in root.parent.rglob("*.py"):
        nodes = list(ast.walk(ast.parse(p.read_text(encoding="utf-8"))))
        files: dict[str, str] = {}
        for node in nodes:
            if isinstance(node, ast.ImportFrom) and node.module == package.__name__:
                files |= {a.asname or a.name: a.name for a in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                found |= {(node.module.rpartition(".")[2], a.name) for a in node.names}
            elif isinstance(node, ast.Name) and p.parent == root:
                found.add((p.stem, node.id))
        for node in nodes:
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
                found.add((files.get(node.value.id, ""), node.attr))
    return found


def test_what_the_house_does_not_use_is_named_as_reference() -> None:
    """A formula is used by some room, or stands in ``REFERENCE``, and no other stands there."""
    taken, unused = used(), set()
    for name in MODULES:
        text = (Path(package.__file__).parent / f"{name}.py").read_text(encoding="utf-8")
        for node in ast.parse(text).body:
            if not isinstance(node, ast.FunctionDef | ast.ClassDef) or node.name.startswith("_"):
                continue
            if (name, node.name) not in taken:
                unused.add(node.name)
    assert unused == package.REFERENCE
