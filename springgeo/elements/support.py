"""How the ends of a meshed spring are held and pulled.

The first end's point of pull is held and the second's is pulled along +z, as the load curve has
it. A point of pull is a node of its own: of a hook its displacement is the mean of the section at
the contact, so that the pull acts through the middle of the wire and stiffens nothing; wire in the
grip of a fitting moves with it as a rigid body. A fitting of cylinders, a plug, is meshed: the wire
is tied to its seat, and its stud is what the point of pull moves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array, cross
from springgeo.curve.motion import rotation
from springgeo.elements.o_grid import Ints
from springgeo.ends.protocol import Turning

# rotations about x, y, z that are held, of a pull along z
_HELD: dict[Turning, tuple[int, ...]] = {
    "free": (),
    "kept": (3,),
    "swivelling": (1, 2),
    "held": (1, 2, 3),
}


@dataclass(frozen=True, eq=False)
class Grip:
    """One end's point of pull.

    Attributes
    ----------
    node : int
        The point's own node.
    nodes : (k,) int
        Nodes of the wire, or of a meshed fitting's stud, that it moves with.
    weights : (k,) float or None
        Their shares in the mean that the point follows; None: they are a rigid body with it.
    turn : int or None
        Of a rigid body: the node whose displacements are its rotations.
    moves, turns : tuple of int
        Displacements and rotations that are held, 1 to 3.
    """

    node: int
    nodes: Ints
    weights: Array | None
    turn: int | None
    moves: tuple[int, ...]
    turns: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class Seat:
    """Wire in the grip of a meshed fitting, and the fitting's seat: one rigid body, free to move.

    Attributes
    ----------
    nodes : (k,) int
    node, turn : int
        The body's own nodes, of its displacements and of its rotations.
    """

    nodes: Ints
    node: int
    turn: int


def held(turning: tuple[Turning, Turning]) -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Return what is held of either end: displacements and rotations, 1 to 3.

    The second's point stays on the line of pull, as in the load curve. Of that a force comes only
    where an end is held upright.
    """
    a, b = (_HELD[t] for t in turning)
    return [((1, 2, 3), a), ((1, 2), b)]


def steady(turning: tuple[Turning, Turning]) -> bool:
    """Return whether an end is kept from turning about the pull."""
    return any(3 in _HELD[t] for t in turning)


def upright(point_a: Array, point_b: Array) -> Array:
    """Return the turn ``(3, 3)`` that brings the line of pull to +z; exactly none where it is."""
    along = (point_b - point_a) / np.linalg.norm(point_b - point_a)
    if np.hypot(along[0], along[1]) < 1e-9:
        return np.eye(3)
    axis = cross(along, np.array([0.0, 0.0, 1.0]))
    size = float(np.sqrt(axis @ axis))
    turned: Array = rotation((axis / size * math.atan2(size, float(along[2])))[None])[0]
    return turned


def gauge(nodes: Array, allowed: Ints, axis: Array) -> int:
    """Return the node that is kept from turning about the pull by a hold along y.

    Far from the line of pull in x and near it in y; no force comes of it.
    """
    off = np.abs(nodes[allowed] - axis)
    return int(allowed[np.argmax(off[:, 0] - 2 * off[:, 1])])
