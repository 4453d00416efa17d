"""Bends of round wire by finite elements: what each section force does to the surface.

Chains of straight wire and arcs, in one plane and out of it, solved by ``bent_bar.py`` for six
loads at once. At every station the six solutions give what each of N, V_n, V_b, T, M_n and M_b
does there alone, so that every mixture of loads is a sum. The chains and their greatest stresses
stand in ``tests/published/bends.json``; ``python gallery/bend_family.py`` solves them anew
(minutes) and says how far it is off. ``bend_law.py`` fits the law of
``springgeo/statics/bent_bar.json`` to those marked ``fitted``; the others measure it. Lengths are
in wire diameters.
"""

from __future__ import annotations

import argparse
import json
from dataclasses import dataclass
from pathlib import Path as File

import numpy as np
from bent_bar import AROUND, Array, Found, Section, solve

from springgeo.curve import Arc, Line, Path, Piece
from springgeo.curve.frame import vector

# a part of a chain: curvature, direction of its centre (turned about the wire from the last
# part's own plane, rad), length
Part = tuple[float, float, float]
Chain = list[Part]
Peaks = dict[str, tuple[float, float]]
DATA = File(__file__).parents[1] / "tests/published/bends.json"
# of the straight or even wire at both ends, as far as nothing is looked for
MARGIN, NEXT = 2.25, 0.3
# length of the cells at joints
FINE = 0.02
AREA, MODULUS = np.pi / 4, np.pi / 32
# nominal stresses of unit N, V_n, V_b, T, M_n, M_b
UNITS = np.array([AREA, AREA, AREA, 2 * MODULUS, MODULUS, MODULUS])


def path_of(chain: Chain) -> Path:
    """Return the centreline of a chain that starts along x with its first centre toward y."""
    place, t, n = vector(0, 0, 0), vector(1, 0, 0), vector(0, 1, 0)
    pieces = []
    for i, (kappa, plane, length) in enumerate(chain):
        inward = np.cos(plane) * n + np.sin(plane) * np.cross(t, n)
        bend = Line.between(place, place + length * t)
        if kappa > 0:
            bend = Arc.leaving(place, t, inward, 1 / kappa, length * kappa)
        pieces.append(Piece(bend, f"part {i}", "bend" if kappa > 0 else "straight"))
        end = np.array([length])
        place, old = bend.point(end)[0], t
        t = bend.tangent(end)[0]
        axis, angle = np.cross(old, inward), length * kappa
        n = (
            np.cos(angle) * n
            + np.sin(angle) * np.cross(axis, n)
            + (1 - np.cos(angle)) * (axis @ n) * axis
        )
    return Path(pieces)


@dataclass(frozen=True, eq=False)
class Influence:
    """What unit nominal stress of each section force does.

    ``stress (n, 6, around, 3)``: axial, hoop, shear, by N, V_1, V_2, T, M_1, M_2 along the frame
    ``n1, n2``, which does not spin.
    """

    chain: Chain
    s: Array
    stress: Array
    n1: Array


def influence(
    chain: Chain, section: Section, fine: float = FINE, coarse: float = 0.4, every: int = 3
) -> Influence:
    """Solve a chain; ``every`` thins out the 72 angles.

    Stress is read inside the cells: at joints, where it has a kink, ``fine`` says how near to them.
    """
    path = path_of(chain)
    middle, end = path.point(np.array([path.length / 2, path.length - 1e-12]))
    loads = [(force, np.cross(middle - end, force)) for force in np.eye(3)]
    loads += [(np.zeros(3), moment) for moment in np.eye(3)]
    found = solve(path, 0.0, path.length, 1.0, loads, section, fine, coarse)
    here = np.moveaxis(section_forces(found), 2, 0)
    stress = np.moveaxis(found.stress[:, :, ::every, :3], 0, 1)
    alone = np.linalg.solve(here, stress.reshape(len(found.s), 6, -1)).reshape(stress.shape)
    return Influence(chain, found.s, alone * UNITS[:, None, None], found.n1)


def section_forces(found: Found) -> Array:
    """Return N, V_1, V_2, T, M_1, M_2 ``(loads, 6, n)``."""
    axes = (found.t, found.n1, found.n2)
    return np.stack(
        [np.einsum("lnx,nx->ln", v, a) for v in (found.force, found.moment) for a in axes], axis=1
    )


def singles() -> list[Chain]:
    """Return the arcs between straight wires that the law is fitted to: radius 1 to 4."""
    lengths = (0.2, 0.3, 0.45, 0.7, 1.0, 1.5, 2.5, 4.0)
    return [
        [(0.0, 0.0, 3.0), (1 / r, 0.0, length), (0.0, 0.0, 3.0)]
        for r in (1, 1.25, 1.5, 2, 3, 4)
        for length in lengths
    ]


def loads_on(chain: Chain, seed: int) -> list[tuple[Array, Array]]:
    """Return forces, N, and moments, N mm, about the middle of the chain, for unit diameter.

    A moment along each axis there, then pulls along lines 2 to 6 diameters away, as in hooks.
    """
    path = path_of(chain)
    middle = np.array([path.length / 2])
    t, n = path.tangent(middle)[0], path.normal(middle)[0]
    rng = np.random.default_rng(seed)
    out = [(np.zeros(3), axis) for axis in (t, n, np.cross(t, n))]
    for _ in range(9):
        force, arm = (v / np.linalg.norm(v) for v in rng.normal(size=(2, 3)))
        out.append((force, np.cross(rng.uniform(2, 6) * arm, force)))
    return [(np.round(force, 6), np.round(moment, 6)) for force, moment in out]


def peaks(
    found: Influence, loads: list[tuple[Array, Array]], margin: float = MARGIN
) -> list[Peaks]:
    """Return the greatest stress of each kind under each load, with its place.

    ``margin`` at both ends is left out; so is a stress that is greatest next to it.
    """
    path = path_of(found.chain)
    here, axes = path.point(found.s), [path.tangent(found.s), found.n1]
    axes.append(np.cross(axes[0], axes[1]))
    middle = path.point(np.array([path.length / 2]))[0]
    kept = np.flatnonzero((found.s > margin) & (found.s < path.length - margin))
    out: list[Peaks] = []
    for force, moment in loads:
        about = moment + np.cross(middle - here, force)
        f = [axis @ force for axis in axes]
        m = [np.einsum("nx,nx->n", axis, about) for axis in axes]
        share = np.stack([*f, *m], axis=1) / UNITS
        coarse = np.einsum("nl,nlpc->npc", share, found.stress)
        # the few harmonics fix the stress between the angles that are kept
        spectrum = np.fft.rfft(coarse, axis=1) * (AROUND / coarse.shape[1])
        stress = np.fft.irfft(spectrum, AROUND, axis=1)
        axial, hoop, shear = np.moveaxis(stress, 2, 0)
        mean, radius = (axial + hoop) / 2, np.hypot((axial - hoop) / 2, shear)
        kinds = {
            "axial": np.abs(axial),
            "shear": np.maximum(radius, (np.abs(mean) + radius) / 2),
            "von_mises": np.sqrt(mean**2 + 3 * radius**2),
        }
        peak = {}
        for kind, value in kinds.items():
            along = value.max(axis=1)
            i = kept[np.argmax(along[kept])]
            if abs(found.s[i] - path.length / 2) > path.length / 2 - margin - NEXT:
                continue
            peak[kind] = (float(along[i]), float(found.s[i]))
        out.append(peak)
    return out


def main() -> None:
    """Solve the chains of the data file anew; compare, or write with ``--write``."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--write", action="store_true", help="write the data file")
    parser.add_argument("--every", type=int, default=1, help="solve only each n-th chain")
    options = parser.parse_args()
    data, worst = json.loads(DATA.read_text("utf-8")), 0.0
    section = Section(largest=0.75)
    for entry in data["chains"][:: options.every]:
        chain = [tuple(part) for part in entry["parts"]]
        loads = [(np.array(case["force"]), np.array(case["moment"])) for case in entry["cases"]]
        for case, peak in zip(entry["cases"], peaks(influence(chain, section), loads), strict=True):
            for kind, (value, s) in peak.items():
                worst = max(worst, abs(value / case[kind][0] - 1))
                case[kind] = [float(f"{value:.6g}"), round(s, 4)]
    print(f"{len(data['chains'][:: options.every])} chains, off by {100 * worst:.3f} % at most")
    if options.write:
        DATA.write_text(json.dumps(data, separators=(",", ":")) + "\n", "utf-8")


if __name__ == "__main__":
    main()
