"""How far the corrected closed form is off: springs drawn, each held against its equilibrium."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from springgeo.errors import SpecError
from springgeo.mechanics.value import Array
from springgeo.tolerance.drawn import deviations, standard, unit_draws
from springgeo.tolerance.strayed import Strayed
from springgeo.tolerance.truth import Truth

# springs held against their equilibrium: of so many drawn, those furthest off, and ordinary ones
CHECKED, _OF, _FURTHEST = 6, 64, 3


class Differences(NamedTuple):
    """Greatest differences of every answer, per cent of the nominal one, over so many springs."""

    percent: tuple[float, ...]
    springs: int


def differences(every: Strayed, truth: Truth) -> Differences:
    """Return how far drawn springs are off their equilibrium."""
    z, nominal = _springs(every), truth.shown_at({})
    rows = deviations(every.inputs, z)
    greatest, count = np.zeros(len(truth.answers)), 0
    for n in range(z.shape[1]):
        off = every.model.as_made({name: np.asarray(x[n]) for name, x in rows.items()})
        plain = {name: float(x) for name, x in off.items()}
        values, wrong = every.model.plainly(off, truth.answers)
        if bool(wrong):
            continue
        try:
            true = truth.shown_at(plain)
        except SpecError:
            continue
        with np.errstate(divide="ignore", invalid="ignore"):
            apart = 100 * np.abs(np.array([float(v) for v in values]) - true) / nominal
        greatest = np.maximum(greatest, np.where(np.isfinite(apart), apart, 0.0))
        count += 1
    return Differences(tuple(greatest.tolist()), count)


def _springs(every: Strayed) -> Array:
    """Return deviates ``(inputs, CHECKED)``: the furthest off of some, then the first."""
    u = next(unit_draws(_OF, len(every.inputs), every.seed + 1))
    z = standard(u, every.distribution)
    order = np.argsort(-(z**2).sum(axis=0), kind="stable")
    rest = [n for n in range(_OF) if n not in order[:_FURTHEST]]
    return np.asarray(z[:, [*order[:_FURTHEST].tolist(), *rest[: CHECKED - _FURTHEST]]])
