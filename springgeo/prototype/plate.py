"""Prints laid on the bed: axis along the bed, loop A's plane on it, side by side."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.files.formats.threemf_package import Item
from springgeo.mesh import Mesh

# clear distance between two prints, mm
APART = 6.0
# depth of a flat, in wire diameters
FLAT = 0.15


def laid(parts: list[tuple[str, Mesh]], scale: float, flat: float) -> list[tuple[str, Mesh]]:
    """Return parts scaled and turned so that the spring lies: bed x its axis, bed z our y.

    ``flat`` is cut from the underside, mm as printed: every corner below it moves up to it. The
    triangles stay as connected as they were, so the shells stay closed.
    """
    # a cyclic change of axes is a rotation: no mirror
    turned = [(name, scale * mesh.vertices[:, [2, 0, 1]], mesh.faces) for name, mesh in parts]
    bed = min(float(points[:, 2].min()) for _, points, _ in turned) + flat
    done = []
    for name, points, faces in turned:
        low = points - np.array([0.0, 0.0, bed])
        low[:, 2] = np.maximum(low[:, 2], 0.0)
        done.append((name, Mesh(low, faces)))
    return done


def arranged(prints: list[tuple[str, list[tuple[str, Mesh]]]]) -> list[Item]:
    """Return named prints side by side along the bed's y, none overlapping another."""
    items, y = [], 0.0
    for name, parts in prints:
        low, high = box_of([mesh for _, mesh in parts])
        move = np.array([-low[0], y - low[1], 0.0])
        items.append(Item(name, [(n, Mesh(m.vertices + move, m.faces)) for n, m in parts]))
        y += float(high[1] - low[1]) + APART
    return items


def box_of(meshes: list[Mesh]) -> Array:
    """Return the box of several meshes, ``(2, 3) float, mm``."""
    low = np.min([m.vertices.min(axis=0) for m in meshes], axis=0)
    high = np.max([m.vertices.max(axis=0) for m in meshes], axis=0)
    return np.array([low, high])
