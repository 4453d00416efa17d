"""Terms of the law of the bent bar: what ``bend_law.py`` fits."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
from bent_bar import Array

from springgeo.statics.coefficients import shear_factor

Complex = npt.NDArray[np.complex128]
USUAL = 0.3  # Poisson's ratio of the fits


@dataclass
class Term:
    """One term; ``powers`` and, in first order, ``weights`` by Poisson's ratio."""

    load: str
    stress: str
    harmonic: int
    bars: int
    plain: int
    phase: complex
    weights: dict[float, Array] = field(default_factory=dict)
    powers: dict[float, Array] = field(default_factory=dict)

    def factor(self, both: Complex, nu: float = USUAL) -> Complex:
        """Return the factor on the load, ``(n,)``, without its phase."""
        y = self.weights.get(nu, self.weights[USUAL]) @ both
        c = self.powers.get(nu, self.powers[USUAL])
        return np.polyval(c[::-1], np.abs(y) ** 2) * y.conj() ** self.bars * y**self.plain

    def as_row(self) -> dict[str, object]:
        """Return the term as it stands in the file."""
        out = {"load": self.load[0], "conjugate": self.load.endswith("*")}
        out |= {"stress": self.stress, "harmonic": self.harmonic, "bars": self.bars}
        out |= {"plain": self.plain, "phase": [self.phase.real, self.phase.imag]}
        for name in ("weights", "powers"):
            value = [np.round(v, 5).tolist() for v in getattr(self, name).values()]
            out[name] = value if len(value) > 1 else value[0]
        return out


def straight(load: str, stress: str, m: int, nu: float) -> complex:
    """Return the straight bar's own factor."""
    known = {("N", "axial", 0): 1, ("T", "shear", 0): 1, ("M*", "axial", 1): -1j}
    known["V*", "shear", 1] = 1j * shear_factor(nu)
    return known.get((load, stress, m), 0)


def phase_of(load: str, stress: str) -> complex:
    """Return the phase that makes a term's coefficients real: a cosine or a sine in the plane."""
    return 1 if (stress == "shear") == (load[0] in "TM") else -1j


def lowest(load: str, m: int) -> tuple[int, int]:
    """Return how often z̄ and z stand in a harmonic's lowest term."""
    if load in "NT":
        return m, 0
    if load.endswith("*"):
        return (m - 1, 0) if m else (0, 1)
    return m + 1, 0


def signs_of(order: int, count: int) -> list[Array]:
    """Return the signs that pairs of terms may have; an odd power takes its own by its weights."""
    if order % 2:
        return [np.ones(count)]
    if count == 1:
        return [np.ones(1), -np.ones(1)]
    return [np.resize([1.0, -1.0], count)]


def monomial(y: Complex, bars: int, plain: int) -> Complex:
    """Return ``z̄^bars z^plain``."""
    return y.conj() ** bars * y**plain
