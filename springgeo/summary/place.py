"""Where a mating section mounts a spring, if its pull is not straight there."""

from __future__ import annotations

from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.mounted.states import Mounted
from springgeo.fit.mounting import mounting, turning
from springgeo.specification.mating import Mating
from springgeo.spring.model import SpringModel


def mounted(model: SpringModel, curve: LoadCurve, mating: Mating | None) -> Mounted | None:
    """Return the spring as mounted; None where its pull is straight and is that of the curve."""
    if mating is None:
        return None
    how = turning(model, mating)
    place = mounting(model, mating, how)
    if how != model.turning:
        made = curve.made or curve
        curve = made if how == made.turning else LoadCurve(curve.spring, how, made)
    elif place.is_straight:
        return None
    return Mounted(curve, place)
