"""Pieces of the wire so short that no file can hold them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from springgeo.curve.motion import least_rotation
from springgeo.curve.piece import Piece

# wire diameters: kernels take points so near for one, single precision cannot tell them apart
SLIVER = 1e-6


def without_slivers(pieces: Iterable[Piece], least: float) -> tuple[Piece, ...]:
    """Return the pieces that are ``least`` mm long; what follows a shorter one closes up.

    It is moved by its way and the turn of its tangent, so that no joint gets a gap or an angle.
    """
    out: list[Piece] = []
    axes, origin = np.eye(3), np.zeros(3)
    for piece in pieces:
        segment = piece.segment
        if segment.length >= least:
            closed_up = np.any(origin) or np.any(axes != np.eye(3))
            out.append(replace(piece, segment=segment.moved(axes, origin)) if closed_up else piece)
            continue
        (start, end), (t0, t1), _ = segment.placed(np.array([0.0, segment.length]))
        turn = least_rotation(t1, t0)
        # of what has closed up so far, the same again: x -> start + turn (x - end)
        axes, origin = axes @ turn, origin + axes @ (start - turn @ end)
    return tuple(out)
