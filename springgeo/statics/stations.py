"""Where the wire is looked at: dense near joints, sparse inside the coils."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path, Piece, Samples, Segment
from springgeo.curve.frame import Array

# spacing in wire diameters as far as (distance from a joint, in wire diameters)
NEAR, NEAR_STEP = 1.2, 0.05
REACH, FAR_STEP = 3.0, 0.15
# an odd number of stations in two turns: every second turn is seen at the azimuths between
PER_TWO_TURNS = 17


def turn_length(segment: Segment) -> float:
    """Return 2π over the greatest of the curvatures at start, middle and end, mm (or inf)."""
    kappa = segment.curvature(np.array([0.0, 0.5, 1.0]) * segment.length)
    largest = float(np.sqrt(np.max(np.sum(kappa * kappa, axis=1))))
    return 2 * np.pi / largest if largest * segment.length > 1e-9 else np.inf


def stations(path: Path, wire_diameter: float, s_a: float, s_b: float) -> Samples:
    """Return the stations between two arc lengths and ``3 d`` beyond them.

    Both ends of every segment are stations (a joint is two of them), and so are ``s_a`` and
    ``s_b``. Spacing is 0.05 d within 1.2 d of a joint, then 0.15 d; inside the body, 3 d from
    its ends and beyond, 8½ to the turn. The body is taken to vary little from turn to turn.

    Parameters
    ----------
    path : Path
    wire_diameter, s_a, s_b : float, mm

    Returns
    -------
    Samples
        ``(n,)`` stations; normals are the segments' own and may turn at a joint.

    Raises
    ------
    ValueError
        ``s_a`` or ``s_b`` lies outside the path.
    """
    slack = 1e-9 * path.length
    if s_a < -slack or s_b > path.length + slack:
        raise ValueError(
            f"contacts at {s_a:g} and {s_b:g} mm are not on the {path.length:g} mm wire"
        )
    s_a, s_b = max(s_a, 0.0), min(s_b, path.length)
    low, high = max(0.0, s_a - REACH * wire_diameter), min(path.length, s_b + REACH * wire_diameter)
    parts = []
    for i, (piece, start) in enumerate(path):
        length = piece.segment.length
        if start + length <= low or start >= high:
            continue
        q = _grid(piece, wire_diameter)
        extra = np.clip(np.array([low, s_a, s_b, high]) - start, 0.0, length)
        q = _distinct(np.concatenate([q, extra]))
        q = q[(q >= low - start) & (q <= high - start)]
        parts.append(Samples.on(piece.segment, i, start, q))
    return Samples.joined(parts)


def between(path: Path, samples: Samples, s_a: float, s_b: float) -> npt.NDArray[np.bool_]:
    """Return which stations lie between two arc lengths, in spite of rounding, ``(n,) bool``.

    The far side of a joint at ``s_a`` or ``s_b`` does not.
    """
    slack = 1e-9 * (s_b - s_a)
    before, after = samples.s >= s_a - slack, samples.s <= s_b + slack
    starts, ends = path.starts[samples.index], path.starts[samples.index + 1]
    result: npt.NDArray[np.bool_] = before & after & (ends > s_a + slack) & (starts < s_b - slack)
    return result


def _distinct(q: Array) -> Array:
    """Return the values in rising order, each once; numpy's own loads its masked arrays."""
    q = np.sort(q)
    distinct: Array = q[np.concatenate([[True], q[1:] != q[:-1]])]
    return distinct


def _grid(piece: Piece, wire_diameter: float) -> Array:
    """Return arc lengths from 0 to the piece's length, graded towards both ends."""
    length = piece.segment.length
    inside = FAR_STEP * wire_diameter
    if piece.role == "body":
        inside = min(2 * turn_length(piece.segment) / PER_TWO_TURNS, length)
    edges = np.array([0.0, NEAR, REACH]) * wire_diameter
    edges = np.minimum(edges, length / 2)
    steps = np.array([NEAR_STEP * wire_diameter, FAR_STEP * wire_diameter])
    half = np.concatenate(
        [
            np.linspace(a, b, int(np.ceil((b - a) / h - 1e-9)), endpoint=False)
            for a, b, h in zip(edges[:-1], edges[1:], steps, strict=True)
            if b > a
        ]
    )
    middle = np.linspace(
        edges[-1], length - edges[-1], int(np.ceil((length - 2 * edges[-1]) / inside - 1e-9)) + 1
    )
    return np.concatenate([half, middle, length - half[::-1]])
