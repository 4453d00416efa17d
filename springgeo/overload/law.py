"""How the wire yields: published elastic limits, and the return to the yield surface."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array

_ROUNDS = 60


@dataclass(frozen=True)
class Law:
    """An elastic wire that yields at ``(σ/σ_y)² + (τ/τ_y)² = 1``, with associated flow.

    Von Mises where ``torsion`` is ``tension/√3``; published elastic limits of spring wire are a
    pair of their own. Hardening is kinematic (Prager's): the surface moves, and keeps its size.

    Attributes
    ----------
    E, G : float, MPa
    tension, torsion : float, MPa
        σ_y and τ_y.
    hardening : float, MPa
        Plastic modulus: rise of an axial stress beyond σ_y over the plastic strain; 0 for none.
    """

    E: float
    G: float
    tension: float
    torsion: float
    hardening: float = 0.0

    @classmethod
    def von_mises(cls, E: float, G: float, limit: float, hardening: float = 0.0) -> Law:
        """Return the law of von Mises with a yield stress in tension, MPa."""
        return cls(E, G, limit, limit / 3**0.5, hardening)

    @property
    def weight(self) -> Array:
        """Weights of σ² and of both τ² in ``σ² + m τ² = σ_y²``, ``(3,)``."""
        m = (self.tension / self.torsion) ** 2
        return np.array([1.0, m, m])

    @property
    def moduli(self) -> Array:
        """E, G, G, ``(3,) MPa``."""
        return np.array([self.E, self.G, self.G])

    def share(self, stress: Array) -> Array:
        """Return ``√(σ² + m τ²)/σ_y`` of stresses ``(..., 3)``: one where the wire yields."""
        size: Array = np.sqrt(stress**2 @ self.weight) / self.tension
        return size


@dataclass(frozen=True, eq=False)
class Returned:
    """Fibres brought back to the yield surface.

    Attributes
    ----------
    stress, plastic : (..., 3) float, MPa and 1
        σ, τ, τ and the plastic strains ε, γ, γ.
    stiffness, along, size : (..., 3), (..., 3), (...) float
        The consistent tangent is ``diag(stiffness) − along alongᵀ/size``.
    """

    stress: Array
    plastic: Array
    stiffness: Array
    along: Array
    size: Array


def returned(law: Law, strain: Array, plastic: Array, locked: Array | float = 0.0) -> Returned:
    """Return the fibres at strains ``(..., 3)`` that had flowed by ``plastic`` before.

    Backward Euler, fully implicit; in the three components of stress that a fibre bears the
    return is a single equation for the flow λ, solved by Newton's method from below, where it is
    convex. Simo and Hughes, Computational Inelasticity, ch. 3 (from memory), for a beam's fibre.

    Parameters
    ----------
    law : Law
    strain, plastic : (..., 3) float
        ε, γ, γ in all, and what of them is plastic so far.
    locked : (..., 3) float, MPa
        Stress of the fibre before any strain: residual stress of making.
    """
    c, p, H = law.moduli, law.weight, law.hardening
    trial = c * (strain - plastic) + locked
    back = H / p * plastic
    free = trial - back
    k = p * c + H
    square = p * free**2
    limit = law.tension**2
    over = square.sum(axis=-1) > limit
    stress, flowed = trial.copy(), plastic.copy()
    stiffness, along, size = (
        np.broadcast_to(c, trial.shape).copy(),
        np.zeros_like(trial),
        np.ones_like(over, dtype=float),
    )
    if over.any():
        at = square[over]
        flow = np.zeros(len(at))
        for _ in range(_ROUNDS):
            w = 1 + flow[:, None] * k
            part = at / w**2
            off = part.sum(axis=1) - limit
            flow = flow + off / (2 * (part * k / w).sum(axis=1))
            if float(np.abs(off).max()) <= 1e-12 * limit:
                break
        w = 1 + flow[:, None] * k
        found = free[over] / w
        more = flow[:, None] * p * found
        flowed[over] += more
        stress[over] = trial[over] - c * more
        stiffness[over] = (1 + flow[:, None] * H) * c / w
        along[over] = p * found * c / w
        size[over] = (p * found**2 * k / w).sum(axis=1)
    return Returned(stress, flowed, stiffness, along, size)
