"""Stress on the wire's surface, of what a solver says at the integration points of its elements.

Extrapolated to nodes element by element it overshoots; a polynomial over each section does not.
"""

from __future__ import annotations

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array

# degree of the polynomial over a section, and points on its rim
DEGREE, AROUND = 7, 72
# of a symmetric tensor as solvers write it: xx, yy, zz, xy, xz, yz
_TENSOR = [[0, 3, 4], [3, 1, 5], [4, 5, 2]]


def stress_at_rim(path: Path, diameter: float, s: Array, place: Array, stress: Array) -> Array:
    """Return the stress on the rim of sections, ``(n, AROUND, 3, 3) MPa``.

    Parameters
    ----------
    path : Path
        The drawn centreline, of wire ``diameter`` mm thick.
    s : (n,) float, mm
        Arc lengths of the sections.
    place : (n, m, 3) float, mm
        Drawn places of the integration points of each section.
    stress : (n, m, 6) float, MPa
        There: xx, yy, zz, xy, xz, yz.
    """
    t, normal = path.tangent(s), path.normal(s)
    off = place - path.point(s)[:, None]
    across = (normal, np.cross(t, normal))
    flat = np.stack([np.einsum("lgx,lx->lg", off, v) for v in across], axis=-1)
    phi = np.linspace(0, 2 * np.pi, AROUND, endpoint=False)
    rim = _powers(np.stack([np.cos(phi), np.sin(phi)], axis=-1))
    found: Array = rim @ (np.linalg.pinv(_powers(flat / (diameter / 2))) @ stress)
    return found[..., _TENSOR]


def _powers(x: Array) -> Array:
    """Return the monomials up to ``DEGREE`` of points ``(..., 2)``."""
    pairs = [(i, j) for i in range(DEGREE + 1) for j in range(DEGREE + 1 - i)]
    return np.stack([x[..., 0] ** i * x[..., 1] ** j for i, j in pairs], axis=-1)
