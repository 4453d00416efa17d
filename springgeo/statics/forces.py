"""Forces and moments at every section of the wire, from statics alone."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.statics.contacts import Contacts
from springgeo.statics.frames import Frames
from springgeo.statics.vectors import cross


@dataclass(frozen=True, eq=False)
class SectionForces:
    """What the wire beyond a station does to the wire before it.

    Attributes
    ----------
    N, V_n, V_b : (n,) float, N
        Axial force (tension positive) and shear forces.
    T, M_n, M_b : (n,) float, N mm
        Torque and bending moments about n and b.
    """

    N: Array
    V_n: Array
    V_b: Array
    T: Array
    M_n: Array
    M_b: Array


def load(point: Array, contacts: Contacts, F: float = 1.0) -> tuple[Array, Array]:
    """Return force ``(3,) N`` and moments ``(n, 3) N mm`` on sections at ``point`` ``(n, 3)``.

    ``M = (P_load − P) × F``: a spring held by two contacts is statically determinate, so this
    follows from the centreline alone, for every shape.
    """
    force = F * contacts.direction
    moment: Array = cross(contacts.point_b - point, force)
    return force, moment


def resolve(force: Array, moment: Array, frame: Frames) -> SectionForces:
    """Return forces and moments ``(3,)`` or ``(n, 3)`` in the frames of ``n`` stations."""

    def along(vector: Array, axis: Array) -> Array:
        result: Array = np.einsum("ij,ij->i", np.broadcast_to(vector, axis.shape), axis)
        return result

    return SectionForces(
        *(along(force, axis) for axis in (frame.t, frame.n, frame.b)),
        *(along(moment, axis) for axis in (frame.t, frame.n, frame.b)),
    )
