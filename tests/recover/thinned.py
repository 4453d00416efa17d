"""A mesh with fewer triangles, as reducing programs leave it: corners of a cell become one."""

from __future__ import annotations

from typing import Any

import numpy as np

from springgeo.curve.frame import Array


def thinned(vertices: Array, faces: Any, seed: int, share: float = 0.35) -> tuple[Array, Any]:
    """Return the mesh with its corners clustered in cells, one random corner kept of each.

    ``share``: the cell's side over the wire's diameter is found so that about this share of the
    corners is left. Corners stay on the surface, triangles cut across it.
    """
    rng = np.random.default_rng(seed)
    low = vertices.min(axis=0)
    size = float(np.linalg.norm(np.ptp(vertices, axis=0))) / 400
    for _ in range(12):
        cells = np.floor((vertices - low) / size).astype(np.int64)
        _, member = np.unique(cells, axis=0, return_inverse=True)
        member = member.ravel()
        left = member.max() + 1
        if left <= share * len(vertices):
            break
        size *= 1.2
    order = rng.permutation(len(vertices))
    kept = np.empty(left, dtype=np.int64)
    kept[member[order]] = order
    new = member[faces]
    whole = (new[:, 0] != new[:, 1]) & (new[:, 1] != new[:, 2]) & (new[:, 0] != new[:, 2])
    return vertices[kept], new[whole].astype(np.int32)
