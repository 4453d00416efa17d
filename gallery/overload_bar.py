"""Bars that yield and are let go: sections fibre by fibre beside finite elements (CalculiX).

Each bar is pulled by two equal forces through its ends, along the line that joins them, beyond
its elastic limit, and let go. Elements: swept 20-node hexahedra with reduced integration, large
displacements, von Mises, elastic-perfectly plastic. ``python gallery/overload_bar.py`` takes
a quarter of an hour; ``--fine`` sets the elements across the core of the section: from 3 to 4 the
set no longer changes. Needs CalculiX (ccx). Set grows some ten times as fast as the load, so that
the last column says by how much the load would have to differ for the same set.
"""

from __future__ import annotations

import argparse
import math
import shutil
import subprocess
import tempfile
from dataclasses import replace
from pathlib import Path as File

import numpy as np
from finite_elements_mesh import Array, Model

from springgeo.curve import Arc, Helix, Path, Piece, Segment
from springgeo.curve.frame import unit
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.boundary import Support, Supports
from springgeo.equilibrium.contact.pairs import Pairs
from springgeo.equilibrium.hung import to_z
from springgeo.equilibrium.natural import drawn
from springgeo.equilibrium.rod import Rod, stiffness
from springgeo.overload.law import Law
from springgeo.overload.yielding import Yielding
from springgeo.statics.contacts import Contacts

E, NU, LIMIT, D = 206000.0, 0.3, 1300.0, 1.0
G = E / (2 * (1 + NU))
# name, bar, pull in N
CASES: dict[str, tuple[Segment, float]] = {
    "half a ring, C 8 (bending and tension)": (Arc(radius=4.0, angle=math.pi), 48.0),
    "half a ring, C 4 (bending and tension)": (Arc(radius=2.0, angle=math.pi), 95.0),
    "a coil, C 8 (torsion and bending)": (Helix(radius=4.0, pitch=1.6, turns=1.0), 24.0),
}


def contacts(path: Path) -> Contacts:
    """Return the two ends of a bar as its contacts."""
    a, b = path.point(np.array([0.0, path.length]))
    return Contacts(a, b, 0.0, path.length)


def supports(model: Model) -> list[tuple[int, int]]:
    """Return six (node, axis) pairs that bear nothing however far the bar moves.

    The middle of the first end, the middle of the last one across the pull, and the turning about
    the pull at the place furthest from it; the pull runs along a coordinate axis.
    """
    ids = np.unique(model.elements[:, :8])
    x, (a, b) = model.xyz[ids], (model.contacts.point_a, model.contacts.point_b)
    along = unit(b - a)
    first, last = (int(np.argmin(np.sum((x - p) ** 2, axis=1))) for p in (a, b))
    arm = np.cross(along, x - a)
    third = int(np.argmax(np.sum(arm * arm, axis=1)))
    pull = int(np.argmax(np.abs(along)))
    rest = [k for k in range(3) if k != pull]
    side = max(rest, key=lambda k: abs(float(arm[third, k])))
    pairs = [(first, k) for k in range(3)] + [(last, k) for k in rest] + [(third, side)]
    return [(int(ids[i]), k) for i, k in pairs]


def by_elements(path: Path, F: float, n: int, folder: File) -> tuple[float, float]:
    """Return by how much the ends part under the pull, and what is left of it, mm."""
    model = Model.of(path, D, contacts(path), n)
    forces, held, used = model.forces(F), supports(model), np.unique(model.elements)
    text = ["*NODE, NSET=ALL"]
    text += [
        f"{i + 1},{x:.12g},{y:.12g},{z:.12g}"
        for i, (x, y, z) in zip(used, model.xyz[used], strict=True)
    ]
    text.append("*ELEMENT, TYPE=C3D20R, ELSET=ALL")
    for e, row in enumerate(model.elements + 1):
        text += [f"{e + 1}," + ",".join(map(str, row[:10])) + ",", ",".join(map(str, row[10:]))]
    text += ["*MATERIAL, NAME=M", "*ELASTIC", f"{E:.12g},{NU:.12g}", "*PLASTIC", f"{LIMIT},0."]
    text += ["*SOLID SECTION, ELSET=ALL, MATERIAL=M", "*NSET, NSET=LOADED"]
    text += [f"{i + 1}," for i in forces]
    text += ["*BOUNDARY", *(f"{i + 1},{k + 1},{k + 1}" for i, k in held)]
    for share, first in ((1.0, 0.2), (1e-3, 0.5)):
        text += ["*STEP, NLGEOM, INC=200", "*STATIC", f"{first},1.,1e-5,0.2", "*CLOAD, OP=NEW"]
        text += [
            f"{i + 1},{k + 1},{share * f[k]:.14g}" for i, f in forces.items() for k in range(3)
        ]
        text += ["*NODE PRINT, NSET=LOADED, FREQUENCY=200", "U", "*END STEP"]
    (folder / "bar.inp").write_text("\n".join(text) + "\n")
    program = shutil.which("ccx")
    if program is None:
        raise SystemExit("skipped: CalculiX (ccx) is not installed")
    done = subprocess.run([program, "bar"], cwd=folder, capture_output=True, text=True)
    found: list[dict[int, Array]] = []
    for line in (folder / "bar.dat").read_text().splitlines():
        words = line.split()
        if words and words[0].isalpha():
            found.append({})
        elif words:
            found[-1][int(words[0]) - 1] = np.array([float(w) for w in words[1:]])
    if len(found) != 2:
        raise SystemExit(f"ccx failed:\n{done.stdout[-600:]}")
    # the forces keep their direction: what counts is how far the ends are from each other
    along = unit(model.contacts.point_b - model.contacts.point_a)
    chord = model.contacts.point_b - model.contacts.point_a
    free = float(np.linalg.norm(chord))
    # a consistent load has negative shares; they sum to minus one at one end, one at the other
    shares = {i: float(f @ along) / F for i, f in forces.items()}
    moved = [sum(shares[i] * u for i, u in at.items()) for at in found]
    opened, left = (float(np.linalg.norm(chord + m)) - free for m in moved)
    return opened, left


def rod_of(path: Path, fineness: float = 4.0) -> Rod:
    """Return a bar as a rod, turned so that the pull runs along +z."""
    wire = drawn(path, D, (0.0, path.length), fineness)
    upright = to_z(unit(wire.p[-1] - wire.p[0]))
    wire = replace(wire, R=upright @ wire.R, p=(wire.p - wire.p[0]) @ upright.T)
    stiff = stiffness(wire.strain, D, E, G)
    area = math.pi * D**2 / 4
    return Rod(wire, stiff, E * area, D, Supports(Support(), Support()), Pairs(), 0.0, 1e-5)


def by_sections(path: Path, F: float) -> tuple[float, float, float]:
    """Return the same by sections fibre by fibre, and the pull's elastic opening, mm."""
    rod = rod_of(path)
    now = Yielding.of(rod, Law.von_mises(E, G, LIMIT))
    for share in (0.6, 0.8, 0.9, 1.0):
        now = now.loaded(share * F)
    down = now.unloaded(1e-3 * F)
    assert now.at is not None
    assert down.at is not None
    return now.at.extension, down.at.extension, Balance(rod).at_load(F).extension


def as_load(path: Path, F: float, stays: float) -> float:
    """Return by how much a load differs that leaves ``stays`` mm by the sections, per cent."""
    shares = np.array([0.98, 0.99, 1.0, 1.01])
    left = [by_sections(path, float(share) * F)[1] for share in shares]
    return float(100 * (1 - np.interp(np.log(stays), np.log(left), shares)))


def main() -> None:
    """Print both side by side."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--fine", type=int, default=3)
    parser.add_argument("--case", type=int)
    given = parser.parse_args()
    print(
        "| bar, d 1 mm, 1300 MPa | pull, N | elastic | opens, elements | sections | set, elements "
        "| sections | as a load |"
    )
    print("| --- | --- | --- | --- | --- | --- | --- | --- |")
    for number, (name, (segment, F)) in enumerate(CASES.items()):
        if given.case not in (None, number):
            continue
        path = Path([Piece(segment, "bar", "loop")])
        up, left, elastic = by_sections(path, F)
        with tempfile.TemporaryDirectory() as folder:
            opened, stays = by_elements(path, F, given.fine, File(folder))
        print(
            f"| {name} | {F:g} | {elastic:.4f} | {opened:.4f} | {up:.4f} "
            f"({100 * (up / opened - 1):+.1f} %) | {stays:.4f} | "
            f"{left:.4f} ({100 * (left / stays - 1):+.1f} %) | {as_load(path, F, stays):+.1f} % |",
            flush=True,
        )


if __name__ == "__main__":
    main()
