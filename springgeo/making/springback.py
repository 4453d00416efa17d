"""Springback of wire that is wound on an arbor: elastic-plastic bending, plainly an estimate.

The wire is taken as elastic-perfectly plastic in pure bending, and elastic when let go. What the
winding tension and the pressing of initial tension add is left out; makers find the arbor by trial.
"""

from __future__ import annotations

import math

_ROUNDS = 200


def bending_moment(curvature: float, d: float, E: float, flow: float) -> float:
    """Return the bending moment of a round wire of perfectly plastic material, N mm.

    Elastic up to κ_y = 2 σ/(E d); beyond it, with x = κ_y/κ the half height of the elastic core
    over the radius r, M = σ r³ [(asin x − x √(1 − x²) (1 − 2 x²))/(2 x) + 4/3 (1 − x²)^(3/2)]: the
    integral of stress times arm over the section. Its limit is 16/(3π) = 1.70 times the moment at
    first yield, the shape factor of a solid round section. Source: textbooks of plasticity. Known:
    from memory.

    Parameters
    ----------
    curvature : float, 1/mm
    d : float, mm
    E, flow : float, MPa
        Modulus of elasticity; stress at which the wire flows in bending.
    """
    r, first = d / 2, 2 * flow / (E * d)
    if curvature <= first:
        return E * math.pi * r**4 / 4 * curvature
    x = first / curvature
    root = math.sqrt(1 - x * x)
    core = (math.asin(x) - x * root * (1 - 2 * x * x)) / (2 * x)
    return flow * r**3 * (core + 4 / 3 * root**3)


def springback_curvature(curvature: float, d: float, E: float, flow: float) -> float:
    """Return the curvature that wire bent from straight keeps when let go, 1/mm.

    κ − M(κ)/(E I), I = π d⁴/64: unloading is elastic. Source: textbooks of plasticity. Known: from
    memory.

    Parameters
    ----------
    curvature : float, 1/mm
        While held.
    d : float, mm
    E, flow : float, MPa
    """
    return curvature - bending_moment(curvature, d, E, flow) / (E * math.pi * d**4 / 64)


def wound_diameter(mean: float, d: float, E: float, flow: float) -> float:
    """Return the mean diameter on the arbor that springs back to a mean diameter, mm.

    The root of `springback_curvature` by bisection: what is kept rises with what is bent.

    Parameters
    ----------
    mean : float, mm
        Mean coil diameter when let go.
    d : float, mm
    E, flow : float, MPa
    """
    kept = 2 / mean
    low, high = kept, kept + 2 * 1.7 * 2 * flow / (E * d)
    for _ in range(_ROUNDS):
        middle = (low + high) / 2
        if springback_curvature(middle, d, E, flow) < kept:
            low = middle
        else:
            high = middle
    return 4 / (low + high)
