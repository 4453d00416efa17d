"""How far points lie off the surface of a whole wire, and where along it."""

from __future__ import annotations

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array

# stations apart, in radii of the wire
_STEP = 0.25


def off_path(path: Path, x: Array, r: float) -> tuple[Array, Array]:
    """Return arc length of the foot and distance outside the wire, each ``(n,) float, mm``.

    At a cut end the distance is that from the flat disc where that is nearer.
    """
    from scipy.spatial import cKDTree

    n = min(int(path.length / (_STEP * r)) + 2, 200_000)
    s = np.linspace(0.0, path.length, n)
    point, tangent, curvature = path.traced(s, "point", "tangent", "curvature")
    _, near = cKDTree(point).query(x)
    v, T, K = x - point[near], tangent[near], curvature[near]
    along = np.einsum("nk,nk->n", v, T)
    ds = along / np.maximum(1 - np.einsum("nk,nk->n", v, K), 0.2)
    ds = np.clip(ds, -s[near], path.length - s[near])
    away = v - T * ds[:, None] - K * (ds**2 / 2)[:, None]
    off = np.linalg.norm(away, axis=1) - r
    for at, sign in ((0, -1.0), (n - 1, 1.0)):
        last = np.abs(s[near] - s[at]) < 2 * r
        past = sign * ((x - point[at]) @ tangent[at])
        radial = np.linalg.norm(x - point[at] - sign * past[:, None] * tangent[at], axis=1)
        flat = last & (radial < r) & (past > off) & (past > -r)
        off = np.where(flat, past, off)
    return s[near] + ds, off
