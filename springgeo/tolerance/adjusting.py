"""What the maker sets anew for every lot of wire, so that a load is met.

DIN 2097 and its like leave the maker one quantity free. A lot of wire has one diameter and one
modulus; from spring to spring of the lot everything else strays, the free quantity, too. So only
what the lot is off by is taken out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import get_args

import numpy as np

from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.mechanics import rate
from springgeo.mechanics.value import Array, Value
from springgeo.specification.end_names import SIDES
from springgeo.specification.tolerances import Adjusted
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.closed_form import Nominal, Off
from springgeo.tolerance.truth import Asked

# what is one value for all springs of a lot
LOT = ("wire_diameter", "shear_modulus")


def adjusted(
    nominal: Nominal, length: float, wanted: Array, lot: Off, off: Off, what: str
) -> dict[str, Array]:
    """Return deviations with the one that is adjusted, so that a lot's load is met.

    Parameters
    ----------
    nominal : Nominal
    length, wanted : float, mm, and (n,) float, N
        The load at that length which the closed form must give, its correction taken off.
    lot, off : mapping
        Deviations of the lots' wire, and of the springs.
    what : str
        initial-tension, coils, mean-diameter or free-length.
    """
    made = nominal.made(lot)
    pull = length - made.L_0
    more: Value
    if what == "initial-tension":
        name, more = "initial_tension", wanted - made.k * pull - made.F_i
    elif what == "free-length":
        name = f"hook_length_{SIDES[0]}" if nominal.hooks_rule else "free_length"
        more = pull - (wanted - made.F_i) / made.k
    else:
        k = (wanted - made.F_i) / pull
        G = nominal.G + lot.get("shear_modulus", np.zeros(()))
        if what == "coils":
            name, more = "coils", rate.N_a_for_rate(G, made.D, made.d, k) - nominal.N_a
        else:
            one = rate.rate(G, 1.0, made.d, nominal.N_a)
            name, more = f"{nominal.rules}_diameter", np.cbrt(one / k) - made.D
    return {**off, name: off.get(name, np.zeros(())) + more}


def free_of(book: Handbook, points: Sequence[Asked]) -> str:
    """Return what the specification leaves to the maker (``making.free``), if that can be set."""
    held = any(p.judged for p in points)
    tension = float(book.initial_tension.force) > 0
    for name in book.model.spec.making.free if held else ():
        if name in get_args(Adjusted) and (name != "initial-tension" or tension):
            return name
    return "none"


def require(nominal: Nominal, what: str, points: Sequence[Asked]) -> None:
    """Raise SpecError where there is nothing to adjust, or nothing to adjust it to."""
    if what == "none":
        return
    if not any(p.judged for p in points):
        text = "needs a load above the initial tension that is to be met; give one, or leave it out"
        raise SpecError(error("nothing-to-meet", "tolerances.adjusts", text))
    if what == "initial-tension" and nominal.F_i == 0:
        text = "this spring has no initial tension; adjust coils, mean-diameter or free-length"
        raise SpecError(error("no-initial-tension", "tolerances.adjusts", text))
