"""How stiff round wire is: in torsion, in bending, along its axis."""

from __future__ import annotations

import math

from springgeo.mechanics.value import Value


def torsional_stiffness(d: Value, G: Value, curvature: Value = 0.0) -> Value:
    """Return GJ/(1 − 3/16 ε²), ε = κ d/2: wire that is bent is stiffer in torsion.

    Source: the first term of Göhner's series for the bent round bar. Known: from memory; measured
    on whole springs (``statics.energy``).

    Parameters
    ----------
    d : float or array
        Wire diameter, mm.
    G : float or array
        Shear modulus, MPa.
    curvature : float or array
        Curvature of the wire κ, 1/mm.

    Returns
    -------
    float or array
        N mm², broadcast shape.
    """
    half: Value = curvature * d / 2
    stiff: Value = G * math.pi * d**4 / 32 / (1 - 3 / 16 * half**2)
    return stiff


def bending_stiffness(d: Value, E: Value) -> Value:
    """Return EI = E π d⁴/64.

    Source: the theory of beams. Known: common practice.

    Parameters
    ----------
    d : float or array
        Wire diameter, mm.
    E : float or array
        Young's modulus, MPa.

    Returns
    -------
    float or array
        N mm², broadcast shape.
    """
    stiff: Value = E * math.pi * d**4 / 64
    return stiff


def axial_stiffness(d: Value, E: Value) -> Value:
    """Return EA = E π d²/4.

    Source: the theory of beams. Known: common practice.

    Parameters
    ----------
    d : float or array
        Wire diameter, mm.
    E : float or array
        Young's modulus, MPa.

    Returns
    -------
    float or array
        N, broadcast shape.
    """
    stiff: Value = E * math.pi * d**2 / 4
    return stiff
