"""Forces and moments at every section of the wire, from statics alone."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve import Samples
from springgeo.curve.frame import Array
from springgeo.statics.contacts import Contacts


@dataclass(frozen=True, eq=False)
class Frames:
    """The curvature frame: n toward the centre of curvature, ``b = t × n``; each ``(n, 3)``."""

    t: Array
    n: Array
    b: Array


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


def frames(samples: Samples, curvature: Array) -> Frames:
    """Return the curvature frame of a (smoothed) curvature vector ``(n, 3) float, 1/mm``.

    Where the wire is straight the frame follows the stations' own normals.
    """
    kappa = np.sqrt(np.sum(curvature * curvature, axis=1))
    reference = kappa.max(initial=0.0)
    curved = (kappa > 1e-9 * reference)[:, None]
    n = np.where(curved, curvature / np.where(curved, kappa[:, None], 1.0), samples.normal)
    return Frames(samples.tangent, n, np.cross(samples.tangent, n))


def load(point: Array, contacts: Contacts, F: float = 1.0) -> tuple[Array, Array]:
    """Return force ``(3,) N`` and moments ``(n, 3) N mm`` on sections at ``point`` ``(n, 3)``.

    ``M = (P_load − P) × F``: a spring held by two contacts is statically determinate, so this
    follows from the centreline alone, for every shape.
    """
    force = F * contacts.direction
    moment: Array = np.cross(contacts.point_b - point, force)
    return force, moment


def section_forces(
    point: Array, frame: Frames, contacts: Contacts, F: float = 1.0
) -> SectionForces:
    """Return the section forces at stations between the contacts.

    Parameters
    ----------
    point : (n, 3) float, mm
    frame : Frames
        ``(n, 3)`` each.
    contacts : Contacts
    F : float, N
        The whole load; positive stretches the spring.
    """
    force, moment = load(point, contacts, F)
    return SectionForces(
        *(np.einsum("ij,j->i", axis, force) for axis in (frame.t, frame.n, frame.b)),
        *(np.einsum("ij,ij->i", moment, axis) for axis in (frame.t, frame.n, frame.b)),
    )
