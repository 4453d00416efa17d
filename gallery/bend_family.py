"""Bends of round wire by finite elements: what each section force does to the surface.

Chains of straight wire and arcs, in one plane and out of it, solved by ``bent_bar.py`` for six
loads at once. At every station the six solutions give what each of N, V_n, V_b, T, M_n and M_b
does there alone, so that every mixture of loads is a sum. ``bend_law.py`` fits the law of
``springgeo/statics/bent_bar.json`` to one part of the family and measures it on the other.
Lengths are in wire diameters.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from bent_bar import AROUND, Array, Found, Section, solve

from springgeo.curve import Arc, Line, Path, Piece
from springgeo.curve.frame import vector

# a part of a chain: curvature, direction of its centre (turned about the wire from the last
# part's own plane, rad), length
Part = tuple[float, float, float]
Chain = list[Part]
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
    chain: Chain, section: Section, fine: float = 0.1, coarse: float = 0.4, every: int = 3
) -> Influence:
    """Solve a chain; ``every`` thins out the 72 angles."""
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


def harmonics(stress: Array, turn: float = 0.0) -> Array:
    """Return ``C (6, n, 7, 3)`` with ``stress = Re Σ C_m exp(i m φ)``, φ from n1 turned."""
    out = np.fft.rfft(stress, axis=2)[:, :, :7] * (2 / stress.shape[2])
    out[:, :, 0] /= 2
    out *= np.exp(1j * turn * np.arange(7))[:, None]
    # numpy's transform has exp(−i m φ) on the function, so a cosine's C is real, a sine's −i
    return np.moveaxis(out, 1, 0)


def single(radius: float, length: float, lead: float = 3.0) -> Chain:
    """Return one arc between straight wires."""
    return [(0.0, 0.0, lead), (1 / radius, 0.0, length), (0.0, 0.0, lead)]


def singles() -> list[Chain]:
    """Return the arcs the law is fitted to: radius 1 to 4, length 0.2 to 4."""
    lengths = (0.2, 0.3, 0.45, 0.7, 1.0, 1.5, 2.5, 4.0)
    return [single(r, length) for r in (1, 1.25, 1.5, 2, 3, 4) for length in lengths]


def mixed(seed: int, count: int) -> list[Chain]:
    """Return chains of unequal neighbours and of two bends in any planes, drawn at random."""
    rng = np.random.default_rng(seed)
    radii, lengths = (1.0, 1.2, 1.5, 2.0, 3.0), (0.2, 0.3, 0.5, 0.8, 1.2, 2.0)
    planes = (0.0, np.pi / 2, np.pi, -np.pi / 2, 0.7, 2.0)
    out: list[Chain] = []
    for i in range(count):
        r, l1, l2 = rng.choice(radii, 2), *rng.choice(lengths, 2)
        plane = rng.choice(planes, 2)
        if i % 2:
            beside = np.where(rng.random(2) < 0.3, 0.0, 1 / rng.uniform(2, 8, 2))
            before, after = (float(k) for k in beside)
            bend = (float(1 / r[0]), float(plane[0]), float(l1))
            out.append([(before, 0.0, 3.0), bend, (after, float(plane[1]), 3.0)])
        else:
            gap = float(rng.choice((0.0, 0.0, 0.2, 0.5, 1.0)))
            bends = [
                (float(1 / r[0]), 0.0, float(l1)),
                (float(1 / r[1]), float(plane[1]), float(l2)),
            ]
            between = [(0.0, 0.0, gap)] if gap else []
            out.append([(0.0, 0.0, 3.0), bends[0], *between, bends[1], (0.0, 0.0, 3.0)])
    return out


assert AROUND % 3 == 0
