"""How stiff round wire is: in torsion, in bending, along its axis.

Parameters
----------
d, E, G, curvature : float or array
    Wire diameter, mm; Young's modulus, MPa; shear modulus, MPa; curvature of the wire κ, 1/mm.
"""

from __future__ import annotations

import math

from springgeo.mechanics.value import Value


def torsional_stiffness(d: Value, G: Value, curvature: Value = 0.0) -> Value:
    """Return GJ/(1 − 3/16 ε²), ε = κ d/2: wire that is bent is stiffer in torsion.

    Source: the first term of Göhner's series for the bent round bar. Known: from memory;
    measured on whole springs (``statics.energy``). In N mm².
    """
    half: Value = curvature * d / 2
    stiff: Value = G * math.pi * d**4 / 32 / (1 - 3 / 16 * half**2)
    return stiff


def bending_stiffness(d: Value, E: Value) -> Value:
    """Return EI = E π d⁴/64.

    Source: the theory of beams. Known: common practice. In N mm².
    """
    stiff: Value = E * math.pi * d**4 / 64
    return stiff


def axial_stiffness(d: Value, E: Value) -> Value:
    """Return EA = E π d²/4.

    Source: the theory of beams. Known: common practice. In N.
    """
    stiff: Value = E * math.pi * d**2 / 4
    return stiff
