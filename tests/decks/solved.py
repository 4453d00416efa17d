"""What CalculiX makes of a deck: displacements of the pulled point, stresses, peaks by region."""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from springgeo.elements.quality import GAUSS2, shape
from springgeo.elements.rim import stress_at_rim
from springgeo.elements.wire import MeshedWire
from springgeo.statics.regions import REGIONS, region_of

MISSING = "CalculiX (ccx) is not installed"


def program() -> str | None:
    return shutil.which("ccx")


@dataclass(frozen=True)
class Step:
    """Displacement of the second point of pull, ``(3,) mm``; stresses ``(elements, 8, 6) MPa``."""

    moved: np.ndarray
    stress: np.ndarray


def solve(deck: Path) -> list[Step]:
    """Run a deck unchanged and return its steps, each at its end."""
    found = program()
    if found is None:
        raise RuntimeError(MISSING)
    done = subprocess.run([found, deck.stem], cwd=deck.parent, capture_output=True, text=True)
    if done.returncode or "*ERROR" in done.stdout:
        raise RuntimeError(f"ccx failed: {done.stdout[-800:]}{done.stderr[-400:]}")
    return list(_steps(deck.with_suffix(".dat").read_text()))


def _steps(text: str) -> list[Step]:
    blocks = re.split(r"\n ([a-z ]+) \([^\n]*for set (\w+) and time +([0-9.E+]+)\n", f"\n{text}")[
        1:
    ]
    tables = {}
    for kind, name, time, rows in zip(*(blocks[i::4] for i in range(4)), strict=True):
        numbers = np.array([r.split() for r in rows.splitlines() if r.strip()], dtype=float)
        tables[kind.strip(), name, round(float(time))] = numbers
    out = []
    for n in sorted({t for _, _, t in tables}):
        moved = tables["displacements", "SECOND_PULL", n][0, 1:]
        stress = tables.get(("stresses", "WIRE", n), np.zeros((0, 8)))
        out.append(Step(moved, stress[:, 2:].reshape(-1, 8, 6)))
    return out


def peaks(
    wire: MeshedWire, stress: np.ndarray, contacts: tuple[float, float]
) -> dict[str, dict[str, float]]:
    """Return the greatest surface stress by region: axial, shear (Tresca/2), von Mises, MPa.

    A polynomial over each section through the stresses at its integration points: what is
    extrapolated to nodes element by element overshoots. Axial is along the drawn tangent, and so
    means something in a linear step alone. The wire within a diameter of a contact is left out.
    """
    path, d, e = wire.path, wire.diameter, wire.edges
    per = len(wire.elements) // (len(e) - 1)
    middle, reach = (e[1:] + e[:-1]) / 2, (e[1:] - e[:-1]) / (2 * np.sqrt(3))
    value, _ = shape(GAUSS2, 20)
    place = np.einsum("gn,enx->egx", value, wire.nodes[wire.elements])
    # the first four points of an element lie behind its middle, the others ahead
    place = place.reshape(len(middle), per, 2, 4, 3).swapaxes(1, 2).reshape(-1, per * 4, 3)
    field = stress.reshape(len(middle), per, 2, 4, 6).swapaxes(1, 2).reshape(-1, per * 4, 6)
    s = np.column_stack([middle - reach, middle + reach]).ravel()
    t, tensor = path.tangent(s), stress_at_rim(path, d, s, place, field)
    principal = np.linalg.eigvalsh(tensor)
    a, b, c = np.moveaxis(principal, -1, 0)
    fields = {
        "axial": np.abs(np.einsum("lx,lgxy,ly->lg", t, tensor, t)),
        "shear": (c - a) / 2,
        "von_mises": np.sqrt(((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2) / 2),
    }
    region = region_of(path, s, path.find(s), d)
    region[(s < contacts[0] + d) | (s > contacts[1] - d)] = -1
    return {
        name: {kind: float(field.max(axis=1)[here].max()) for kind, field in fields.items()}
        for i, name in enumerate(REGIONS)
        if (here := region == i).any()
    }
