"""At which load the last pair of coils parts."""

from __future__ import annotations

from springgeo.equilibrium.balance import Solved
from springgeo.equilibrium.load_curve import LoadCurve

# beyond this gap, in widths of the contact's law, a pair has parted
PARTED = 10.0
# share of the pressing force to which the load is found, and up to which multiple it is sought
_FINE, _MOST = 5e-3, 8.0


def parted(curve: LoadCurve, at: Solved) -> float:
    """Return the share of the pairs of coils that have parted, 0 to 1."""
    rod = curve.balance.rod
    gap = rod.pairs.gaps(at.shape.R, at.shape.p)
    return float((gap > PARTED * rod.width).mean())


def last_parts_at(curve: LoadCurve) -> float | None:
    """Return the load, N, at which the last pair parts; None where that is beyond reach."""
    from scipy.optimize import brentq

    rod = curve.balance.rod
    clear = PARTED * rod.width

    def gap(load: float) -> float:
        at = curve.solve(load)
        return float(rod.pairs.gaps(at.shape.R, at.shape.p).min()) - clear

    # gaps widen with the load: what is known narrows the search
    known = [(x.load, gap(x.load)) for x in curve.known]
    low = max((load for load, g in known if g < 0), default=0.5 * curve.initial_tension)
    high = min((load for load, g in known if load > low and g >= 0), default=1.25 * curve.pressing)
    if gap(low) >= 0:
        return low
    while gap(high) < 0:
        low, high = high, 1.25 * high
        if high > _MOST * curve.pressing:
            return None
    return float(brentq(gap, low, high, xtol=_FINE * curve.pressing))
