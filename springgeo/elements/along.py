"""Where the layers of elements lie along the wire: dense at joints, cut at joints and contacts."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array

# thickness of a layer over that of an element across: next to a joint, and far from all
NEAR, FAR = 1.3, 8.0
# wire diameters from a joint to where layers grow, and by how much a wire diameter
FLAT, GROWTH = 1.2, 0.4
# least layers to a full turn of the wire
PER_TURN = 24
# a joint nearer to another, or to a cut, than so many elements across begins no layer: a plate
# so thin is no element
SLIVER = 0.05


def layers(path: Path, diameter: float, across: float, cuts: Sequence[float]) -> Array:
    """Return the arc lengths between layers, ``(n + 1,) float, mm``, in rising order.

    Parameters
    ----------
    path : Path
    diameter : float, mm
    across : float, mm
        Size of an element across the wire.
    cuts : sequence of float, mm
        Further arc lengths that a layer begins at.
    """
    edges = _edges(path, diameter, across, cuts)
    out = [edges[:1]]
    for low, high in pairwise(edges):
        s = _places(low, high, diameter)
        after = np.searchsorted(path.starts, s).clip(1, len(path.starts) - 1)
        away = np.minimum(np.abs(path.starts[after] - s), np.abs(s - path.starts[after - 1]))
        piece = path.pieces[int(path.find(np.array([(low + high) / 2]))[0])]
        turn = 2 * np.pi / max(piece.segment.max_curvature, 1e-12)
        far = min(FAR * across, turn / PER_TURN)
        near = min(NEAR * across, far)
        step = np.clip(near + GROWTH * (away - FLAT * diameter), near, far)
        density = 1 / step
        count = np.concatenate([[0.0], np.cumsum(np.diff(s) * (density[1:] + density[:-1]) / 2)])
        wanted = np.linspace(0.0, count[-1], int(np.ceil(count[-1] - 1e-9)) + 1)
        out.append(np.append(np.interp(wanted, count, s)[1:-1], high))
    return np.concatenate(out)


def _edges(path: Path, diameter: float, across: float, cuts: Sequence[float]) -> Array:
    """Return ends and cuts of the wire, and joints that are not too near to begin a layer."""
    ends = np.array([0.0, path.length])
    cut = np.unique(np.clip(np.concatenate([ends, cuts]), 0.0, path.length))
    cut = cut[np.append(np.diff(cut) > 1e-6 * diameter, True)]
    cut[-1] = path.length
    kept: list[float] = []
    for joint in path.starts[1:-1].tolist():
        apart = float(np.abs(cut - joint).min())
        if apart > SLIVER * across and (not kept or joint - kept[-1] > SLIVER * across):
            kept.append(joint)
    return np.sort(np.concatenate([cut, kept]))


def _places(low: float, high: float, diameter: float) -> Array:
    """Return places to look at between two cuts: 0.02 d apart near them, few inside."""
    reach = min(12 * diameter, (high - low) / 2)
    count = int(np.ceil(reach / (0.02 * diameter))) + 1
    near = np.linspace(0.0, reach, count)
    return np.unique(np.concatenate([low + near, high - near]))
