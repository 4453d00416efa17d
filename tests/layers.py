"""Imports point down only: fails with a line for each one that does not.

Run as ``python -m tests.layers``; the test of the same name calls ``violations``.
"""

from __future__ import annotations

import ast
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent / "springgeo"

# from the ground up; a module may import from its own layer and those below, except that the
# names in one set do not know each other
LAYERS: list[set[str]] = [
    {"message", "process", "worked"},
    {"findings"},
    {"errors", "units"},
    {"plugins", "optional"},
    {"text", "colours"},
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
    {"making", "explanation"},
    {"files"},
    {"drawing"},
    {"state"},
    {"computed"},
    {"cad"},
    {"plots", "prototype", "testing"},
    {"report"},
    {"desk"},
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
    """Return the layer of a top-level name of the package."""
    return next(i for i, names in enumerate(LAYERS) if name in names)


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
            return [f"springgeo.{a.name}" for a in node.names if not a.name.startswith("_")]
        return [node.module]
    return []


if __name__ == "__main__":
    lines = violations()
    sys.stdout.write("\n".join(lines) + "\n" if lines else "layers: imports point down only\n")
    sys.exit(bool(lines))
