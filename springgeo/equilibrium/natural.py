"""The drawn wire as cells: where the nodes lie, and the strain that gives the drawn shape."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve import Arc as CircularArc
from springgeo.curve import Helix, Line, Path, Piece
from springgeo.curve.entries import entries, many, product, rotation_vector, solved, turned
from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import ArcEnds
from springgeo.curve.motion import chained, cross, orthonormal, transposed
from springgeo.equilibrium.arc import Arcs
from springgeo.equilibrium.cell import Strain, ends

# cells to a turn of the body; elsewhere a cell turns no further than this, rad, less where the
# curvature varies, and spans no more than so many wire diameters
PER_TURN = 8
TURN, TURN_VARYING, SPAN = 0.5, 0.25, 4.0
# rounds of Newton's method; one that mends less than this, rad, leaves rounding errors alone
_ROUNDS, _LAST = 6, 1e-8


@dataclass(frozen=True, eq=False)
class Drawn:
    """The wire of a path as nodes and cells.

    Attributes
    ----------
    s : (n + 1,) float, mm
        Arc length of the nodes.
    piece : (n,) int
        Which piece of the path each cell lies on.
    length : (n,) float, mm
    strain : Strain
        Of the drawn shape.
    R, p : (n + 1, 3, 3), (n + 1, 3) float
        Poses of the nodes: tangent first; mm.
    """

    s: Array
    piece: npt.NDArray[np.intp]
    length: Array
    strain: Strain
    R: Array
    p: Array


def drawn(
    path: Path, wire_diameter: float, span: tuple[float, float], fineness: float = 1.0
) -> Drawn:
    """Return the nodes and cells of a drawn centreline between two arc lengths, mm.

    Nodes stand at every joint; in the body an eighth of a turn apart, counted from its start.
    ``fineness`` multiplies the number of cells.

    The rotations of the nodes are the path's own; the positions follow from the strain and leave
    the path by less than 3e-5 wire diameters.
    """
    s, piece = _nodes(path, wire_diameter, span, fineness)
    middle = (s[:-1] + s[1:]) / 2
    every = np.empty(2 * len(s) - 1)
    every[::2], every[1::2] = s, middle
    frames = _frames(path, every)
    length = np.diff(s)
    strain = _strain(length, frames)
    near, far = ends(length, strain)
    whole = near.then(far)
    R, p = placed(frames[0], path.point(s[:1])[0], whole)
    return Drawn(s, piece, length, strain, R, p)


def placed(R: Array, p: Array, cells: ArcEnds) -> tuple[Array, Array]:
    """Return the poses of all nodes from that of the first, one cell after the other."""
    turned, moved = chained(cells.R, cells.p)
    return (
        np.concatenate([R[None], R @ turned]),
        np.concatenate([p[None], p + moved @ R.T]),
    )


def _nodes(
    path: Path, wire_diameter: float, span: tuple[float, float], fineness: float
) -> tuple[Array, npt.NDArray[np.intp]]:
    low, high = span
    tight = 1e-9 * path.length
    cuts, pieces = [np.array([low])], []
    for i, (piece, start) in enumerate(path):
        length = piece.segment.length
        first, last = max(low - start, 0.0), min(high - start, length)
        if last - first <= tight:
            continue
        q = _grid(piece, wire_diameter, first, last, fineness)
        cuts.append(start + q[1:])
        pieces.append(np.full(len(q) - 1, i))
    return np.concatenate(cuts), np.concatenate(pieces)


def _grid(piece: Piece, wire_diameter: float, first: float, last: float, fineness: float) -> Array:
    """Return arc lengths on a piece from ``first`` to ``last`` mm, both included."""
    segment = piece.segment
    if isinstance(segment, Helix) and piece.role == "body":
        step = segment.turn_length / max(1, round(PER_TURN * fineness))
        q = first + step * np.arange(1 + int((last - first) / step * (1 - 1e-9)))
        return np.append(q, last)
    exact = isinstance(segment, Line | CircularArc | Helix)
    turned = segment.max_curvature * (last - first)
    count = max(turned / (TURN if exact else TURN_VARYING), (last - first) / (SPAN * wire_diameter))
    return np.linspace(first, last, math.ceil(fineness * max(count, 1.0) - 1e-9) + 1)


def _frames(path: Path, s: Array) -> Array:
    """Return rotations ``(n, 3, 3)``: tangent, normal, and across both."""
    _, t, n = path.placed(s)
    return orthonormal(np.stack([t, n, cross(t, n)], axis=2))


def node_axes(path: Path, s: float) -> Array:
    """Return tangent, normal and across both of a path at an arc length, ``(3, 3)``."""
    frame: Array = _frames(path, np.array([s]))[0]
    return frame


def _strain(length: Array, frames: Array) -> Strain:
    """Return the strain that turns each cell from its node's frame to the next one's."""
    start, middle, end = frames[:-2:2], frames[1:-1:2], frames[2::2]
    half = length / 2
    first, last = (
        many(rotation_vector(entries(transposed(a) @ b)) / half)
        for a, b in ((start, middle), (middle, end))
    )
    # the means of the halves lie a quarter of the cell from its middle, the Gauss points 1/√12
    strain = Strain((first + last) / 2, (last - first) / math.sqrt(3))
    wanted = entries(transposed(start) @ end)
    for _ in range(_ROUNDS):
        a, b = (Arcs.of(half, entries(x)) for x in strain.halves)
        back = turned(b.R)
        error = rotation_vector(product(product(back, turned(a.R)), wanted))
        slope = product(back, a.slopes[3:]) + b.slopes[3:]
        more = solved(slope, error[:, None])[:, 0]
        strain = Strain(strain.middle + many(more), strain.slope)
        if float(np.abs(error).max()) < _LAST:
            break
    return strain
