"""Springback: wire bent from straight opens again when it is let go; an estimate.

Pure bending of a round bar, elastic-perfectly plastic or with linear hardening; what the winding
tension and the pressing of initial tension add is left out. The flow stress decides and is not
published as such: spring wire bent round an arbor flows between its elastic limit and its tensile
strength, so ask with both. Makers find the arbor by trial.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from springgeo.errors import refused
from springgeo.mechanics import round_wire
from springgeo.overload.closed import moment_of_curvature
from springgeo.text import quantity as q
from springgeo.text.shown import said

_ROUNDS = 200


@dataclass(frozen=True)
class Bent:
    """Wire bent to one diameter of its centreline, that springs back to another; mm.

    ``wound``: mean coil diameter while it is held on the arbor; ``free``: when let go;
    ``arbor``: ``wound`` less the wire, the diameter of the arbor. Zero or less: no arbor does
    it.
    """

    wound: float
    free: float
    arbor: float


def springback(
    wire_diameter: float,
    modulus: float,
    flow_stress: float,
    *,
    free: float | None = None,
    wound: float | None = None,
    hardening: float = 0.0,
) -> Bent:
    """Return how straight wire springs back from an arbor.

    ``1/R = 1/R_a − M(1/R_a)/(E I)`` with M the elastic-plastic moment
    (``overload.closed.moment_of_curvature``) and unloading elastic: textbooks of plasticity (from
    memory).

    Parameters
    ----------
    wire_diameter : float, mm
    modulus, flow_stress : float, MPa
        E, and the stress at which the wire flows in bending.
    free, wound : float, mm
        Mean coil diameter wanted when let go, or that held on the arbor; exactly one.
    hardening : float
        Slope of the stress beyond the flow stress over E, from 0 to below 1.

    Raises
    ------
    SpecError
        A value is out of range, or the wire does not keep any bend that wide.
    """
    if (free is None) == (wound is None):
        raise refused("one-of-two", "free", "give either the free or the wound mean diameter")
    given: dict[str, float | None] = {
        "wire_diameter": wire_diameter,
        "modulus": modulus,
        "flow_stress": flow_stress,
    }
    given |= {"free": free} if wound is None else {"wound": wound}
    for name, value in given.items():
        if value is None or not 0 < value < math.inf:
            raise refused("bad-value", name, f"{value} is not a finite number above zero")
    if not 0 <= hardening < 1:
        raise refused("bad-value", "hardening", f"{hardening} is not from 0 to below 1")
    if wound is not None:
        left = curvature_left(2 / wound, wire_diameter, modulus, flow_stress, hardening)
        if left <= 1e-12 * 2 / wound:
            widest = wire_diameter * modulus / flow_stress
            raise refused(
                "springs-straight",
                "wound",
                said(
                    "{wound} is not below {widest}: wire of {d} springs back straight from it; "
                    "wind it smaller",
                    **q.lengths(5, wound=wound, widest=widest),
                    d=q.length(wire_diameter, 6),
                ),
            )
        return Bent(wound, 2 / left, wound - wire_diameter)
    assert free is not None
    held = 2 / curvature_to_bend(2 / free, wire_diameter, modulus, flow_stress, hardening)
    return Bent(held, free, held - wire_diameter)


def curvature_left(
    bent: float, wire_diameter: float, modulus: float, flow_stress: float, hardening: float = 0.0
) -> float:
    """Return the curvature that bending to ``bent`` leaves, 1/mm: zero if nothing yields."""
    moment = float(moment_of_curvature(bent, wire_diameter, modulus, flow_stress, hardening))
    return bent - moment / float(round_wire.bending_stiffness(wire_diameter, modulus))


def curvature_to_bend(
    left: float, wire_diameter: float, modulus: float, flow_stress: float, hardening: float = 0.0
) -> float:
    """Return the curvature to bend straight wire to, 1/mm, so that ``left`` stays."""
    # the moment never exceeds that of the whole section flowing, nor the elastic one
    low, high = (
        left,
        left / (1 - hardening) + 7 * flow_stress / (modulus * wire_diameter * (1 - hardening)),
    )
    for _ in range(_ROUNDS):
        at = (low + high) / 2
        if not low < at < high:
            break
        if curvature_left(at, wire_diameter, modulus, flow_stress, hardening) < left:
            low = at
        else:
            high = at
    return high
