"""Imports point down only: fails with a line for each one that does not.

Run as ``python -m tests.layers``; the test of the same name calls ``violations``.
"""

from __future__ import annotations

import ast
import graphlib
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent / "springgeo"

# from the ground up; a module may import from its own layer and those below, except that the
# names in one set do not know each other
LAYERS: list[set[str]] = [
    {"message", "process", "version", "worked"},
    {"findings"},
    {"errors", "units"},
    {"plugins", "optional"},
    {"text", "colours", "publish"},
    {"chart"},
    {"trade"},
    {"curve", "materials", "specification"},
    {"fittings"},
    {"mechanics", "ends"},
    {"spring"},
    {"equilibrium"},
    {"solid", "mesh", "statics", "picture", "fit", "overload"},
    {"results"},
    {"summary"},
    {"checks"},
    {"making", "explanation", "elements"},
    {"tolerance"},
    {"files"},
    {"drawing"},
    {"state"},
    {"summarised"},
    {"computed"},
    {"cad"},
    {"plots", "prototype", "testing"},
    {"report", "handover"},
    {"note", "desk"},
    {"api"},
    {"sizing", "sweeping", "measure", "family"},
    {"recovery"},
    {"comparing"},
    {"cli"},
    {"__main__"},
]
# on the ground floor the specification may ask the curve for a pitch, and the materials for the
# names and gauges of wire
SIDEWAYS = {("specification", "curve"), ("specification", "materials")}
# modules that may import the kernel at their top; everything else only inside a function
KERNEL = ("solid/", "cad/", "files/step/")
HEAVY = {"OCP", "cadquery", "vtk", "scipy", "matplotlib"}


def level(name: str) -> int:
    """Return the layer of a top-level name of the package; what is none is the front door's."""
    return next((i for i, names in enumerate(LAYERS) if name in names), len(LAYERS))


def violations() -> list[str]:
    """Return one line per import that points up, sideways, or to something heavy."""
    found = []
    for file in sorted(ROOT.rglob("*.py")):
        inside = file.relative_to(ROOT)
        own = inside.parts[0].removesuffix(".py")
        if own == "__init__":
            continue
        tree = ast.parse(file.read_text(encoding="utf-8"))
        top = set(map(id, tree.body))
        for node in ast.walk(tree):
            for target in _targets(node):
                parts = target.split(".")
                if parts[0] in HEAVY and id(node) in top and not str(inside).startswith(KERNEL):
                    found.append(f"{inside}:{node.lineno}: {parts[0]} at the top of a light file")
                if parts[0] == "springgeo" and len(parts) > 1 and parts[1] != own:
                    up = level(parts[1]) - level(own)
                    if up > 0 or (up == 0 and (own, parts[1]) not in SIDEWAYS):
                        found.append(f"{inside}:{node.lineno}: {own} imports {parts[1]}")
    return found


def _targets(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [a.name for a in node.names]
    if isinstance(node, ast.ImportFrom) and node.module:
        if node.module == "springgeo":
            return [f"springgeo.{a.name}" for a in node.names]
        return [node.module]
    return []


def circles() -> list[str]:
    """Return one line if files of the package import each other in a circle, however late."""
    files = {_name(f): f for f in ROOT.rglob("*.py")}
    needs: dict[str, set[str]] = {}
    for name, file in files.items():
        tree = ast.parse(file.read_text(encoding="utf-8"))
        named = {target for node in ast.walk(tree) for target in _files(node)}
        needs[name] = {n for n in named if n in files and n != name}
    try:
        graphlib.TopologicalSorter(needs).prepare()
    except graphlib.CycleError as exc:
        return [f"in a circle: {' <- '.join(exc.args[1])}"]
    return []


def _name(file: Path) -> str:
    parts = file.relative_to(ROOT.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _files(node: ast.AST) -> list[str]:
    """Return the modules that an import may mean: a package, or files in it."""
    if isinstance(node, ast.ImportFrom) and node.module:
        within = [f"{node.module}.{a.name}" for a in node.names]
        files = [w for w in within if _is_file(w)]
        # a package's own front door imports its files; files of it that are named do not need it
        return files if len(files) == len(within) else [node.module, *files]
    return _targets(node)


def _is_file(name: str) -> bool:
    path = ROOT.parent.joinpath(*name.split("."))
    return path.with_suffix(".py").exists() or (path / "__init__.py").exists()


if __name__ == "__main__":
    lines = [*violations(), *circles()]
    sys.stdout.write("\n".join(lines) + "\n" if lines else "layers: imports point down only\n")
    sys.exit(bool(lines))
