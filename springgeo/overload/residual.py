"""Residual stress of coiling: the wire was bent from straight to its curvature and sprang back."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.overload.disc import disc
from springgeo.overload.law import Law
from springgeo.overload.springback import curvature_to_bend


def coiled(law: Law, wire_diameter: float, curvature: Array) -> Array:
    """Return the stress that bending to ``curvature`` leaves in each fibre, ``(n, f, 3) MPa``.

    Pure bending from straight wire; in balance without any load. The inside of a bend is left in
    tension, the outside in compression. What winding with initial tension twists in is left out.

    Parameters
    ----------
    law : Law
    wire_diameter : float, mm
    curvature : (n, 2) float, 1/mm
        As made, about y and z.
    """
    at = disc(wire_diameter)
    found = np.zeros((len(curvature), len(at.area), 3))
    size = np.hypot(curvature[:, 0], curvature[:, 1])
    second = float(at.area @ at.y**2)
    hardening = law.hardening / (law.E + law.hardening)
    for kappa in np.unique(np.round(size, 12)).tolist():
        if kappa * wire_diameter < 1e-9:
            continue
        bent = curvature_to_bend(kappa, wire_diameter, law.E, law.tension, hardening)
        ours = np.abs(size - kappa) <= 1e-11
        # outward from the centre of curvature
        out = (curvature[ours, :1] * at.z - curvature[ours, 1:] * at.y) / kappa
        elastic = law.E * bent * out
        held = np.clip(elastic, -law.tension, law.tension)
        held = (1 - hardening) * held + hardening * elastic
        # let go: the moment is taken off, whichever way the points on the section make it turn
        off = (held @ (at.area * at.y))[:, None] * at.y + (held @ (at.area * at.z))[:, None] * at.z
        found[ours, :, 0] = held - off / second
    return found
