"""Load and length far beyond small deflections: CalculiX's beams (B32R, NLGEOM) and ours.

A spring whose loops stand over its centre and one with loops at its side, both a little open, so
that no coils touch. Prints both load-length curves. Needs CalculiX (``ccx``).

B32R is a solid under its name: its round section is an eight-node one with 2 x 2 points, some per
cent off the round one, and all its rates with it. So the secant rate over that of a small load is
compared; it hardly depends on the section.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

import springgeo as sg

SPRINGS = {
    "loops over the centre": ("full-twisted-loop", 8.0, 6),
    "loops at the side": ("full-loop-at-side", 8.0, 6),
}
E, NU = 206000.0, 0.3
# body shear of the drawn shape under the greatest load, MPa, and its shares
SHEAR, SHARES = 700.0, (0.01, 0.25, 0.5, 0.75, 1.0)
# beam elements to a coil
PER_TURN = 32


def spring_of(style: str, mean: float, coils: float) -> sg.Spring:
    """Return a spring of 1 mm wire with the same end twice, its coils a little apart."""
    wire = {"material": "en-10270-1-sm", "diameter": 1.0}
    moduli = {"elastic_modulus": E, "shear_modulus": E / (2 * (1 + NU))}
    return sg.Spring.from_dict(
        {
            "name": style,
            "wire": {**wire, **moduli},
            "body": {"mean_diameter": mean, "coils": coils, "pitch": 1.25},
            "ends": {"first": {"style": style}, "second": {"style": style}},
        }
    )


def nodes_of(spring: sg.Spring) -> np.ndarray:
    """Return nodes along the wire between the contacts, ``(2 n + 1, 3) mm``, the pull along +z."""
    g = spring.model.geometry
    first, last = g.load_s
    count = round((last - first) / (2 * np.pi * g.coil_radius) * PER_TURN)
    point = g.path.point(np.linspace(first, last, 2 * count + 1))
    point = point - point[0]
    z = point[-1] / np.linalg.norm(point[-1])
    x = np.cross([0.0, 1.0, 0.0], z)
    x /= np.linalg.norm(x)
    return point @ np.column_stack([x, np.cross(z, x), z])


def input_of(point: np.ndarray, loads: list[float]) -> str:
    """Return the input file: A held, B on A's line, one station kept from turning about it."""
    count = len(point) // 2
    text = ["*NODE, NSET=ALL"]
    text += [f"{i + 1},{x:.12g},{y:.12g},{z:.12g}" for i, (x, y, z) in enumerate(point)]
    along = np.abs(point[2::2, 2] - point[:-2:2, 2]) / np.linalg.norm(
        point[2::2] - point[:-2:2], axis=1
    )
    for name, chosen in (("LEVEL", along < 0.6), ("STEEP", along >= 0.6)):
        if chosen.any():
            text.append(f"*ELEMENT, TYPE=B32R, ELSET={name}")
            text += [f"{e + 1},{2 * e + 1},{2 * e + 2},{2 * e + 3}" for e in np.flatnonzero(chosen)]
    text += ["*MATERIAL, NAME=M", "*ELASTIC", f"{E},{NU}"]
    for name, normal, chosen in (
        ("LEVEL", "0.,0.,1.", along < 0.6),
        ("STEEP", "1.,0.,0.", along >= 0.6),
    ):
        if chosen.any():
            text += [f"*BEAM SECTION, ELSET={name}, MATERIAL=M, SECTION=CIRC", "1.,1.", normal]
    # the station farthest from the line of pull in x, turned about it by a force along y alone
    middle = count + int(np.argmax(np.abs(point[count : count + PER_TURN, 0])))
    text += ["*BOUNDARY", "1,1,3", f"{2 * count + 1},1,2", f"{middle + 1},2,2"]
    text += ["*NSET, NSET=B", f"{2 * count + 1},"]
    for load in loads:
        text += ["*STEP, NLGEOM, INC=200", "*STATIC", "0.25,1.", "*CLOAD"]
        text += [f"{2 * count + 1},3,{load:.12g}", "*NODE PRINT, NSET=B, FREQUENCY=1000", "U"]
        text.append("*END STEP")
    return "\n".join([*text, ""])


def by_beams(spring: sg.Spring, loads: list[float]) -> list[float]:
    """Return the extension at each load, mm, by CalculiX."""
    program = shutil.which("ccx")
    if program is None:
        raise SystemExit("skipped: CalculiX (ccx) is not installed")
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        (place / "spring.inp").write_text(input_of(nodes_of(spring), loads))
        done = subprocess.run([program, "spring"], cwd=place, capture_output=True, text=True)
        printed = place / "spring.dat"
        if done.returncode or not printed.exists():
            raise SystemExit(f"ccx failed:\n{done.stdout[-800:]}{done.stderr[-400:]}")
        rows = [line.split() for line in printed.read_text().splitlines()]
    risen = [float(row[3]) for row in rows if len(row) == 4 and row[0].isdigit()]
    if len(risen) < len(loads):
        raise SystemExit(f"ccx reached {len(risen)} of {len(loads)} loads:\n{done.stdout[-800:]}")
    return risen[-len(loads) :]


def compared(name: str) -> None:
    """Print both curves of one spring."""
    style, mean, coils = SPRINGS[name]
    spring = spring_of(style, mean, coils)
    peak = spring.along_the_wire.unit.peaks["body"].shear.value
    loads = [share * SHEAR / peak for share in SHARES]
    curve = spring.load_curve
    ours = [curve.length(load) - curve.free_length for load in loads]
    theirs = by_beams(spring, loads)
    print(f"\n{name}: d 1, D {mean:g}, {coils} coils, pitch 1.25 mm")
    print("| load, N | beams, mm | ours, mm | secant over small load: beams | ours | off, % |")
    print("| --- | --- | --- | --- | --- | --- |")
    for load, beams, own in zip(loads, theirs, ours, strict=True):
        stiff = [load / x / (loads[0] / first) for x, first in ((beams, theirs[0]), (own, ours[0]))]
        off = 100 * (stiff[1] / stiff[0] - 1)
        print(
            f"| {load:.3f} | {beams:.4f} | {own:.4f} | {stiff[0]:.4f} | {stiff[1]:.4f} "
            f"| {off:+.3f} |"
        )


if __name__ == "__main__":
    for chosen in sys.argv[1:] or SPRINGS:
        compared(chosen)
