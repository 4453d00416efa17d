"""The spring in one state, for the view: its rings, what they are painted with, and its numbers."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from springgeo.computed import ComputedSpring
from springgeo.errors import SpecError
from springgeo.report.stroke import Stroke
from springgeo.report.view import AROUND, view_data
from springgeo.state import State
from springgeo.summary.reach import out_of_reach
from springgeo.text.shown import Shown

# facets a little coarser than on the report: how far off the wire, in its diameters, and corners
FINE = 0.04, AROUND
# while a hand moves: the same state in a fifth of the facets
ROUGH = 0.16, 8
# states kept: the spring as it is and as it was, roughly and then finely
_KEPT = 4


def shape(spring: ComputedSpring, load: float, shown: Shown, *, rough: bool) -> dict[str, Any]:
    """Return the data of the view under a load, N.

    ``rough``: the same equilibrium and stresses in fewer facets, for as long as a hand moves.

    Raises
    ------
    SpecError
        The load is beyond what the wire can be drawn to.
    """
    state = _state(spring, load)
    stroke = Stroke((state,), (), state.load, "")
    data = view_data(spring, stroke, shown, *(ROUGH if rough else FINE))
    return {"view": data, "load": state.load, "length": state.length, "rough": rough}


@lru_cache(maxsize=_KEPT)
def _state(spring: ComputedSpring, load: float) -> State:
    try:
        return State.of(spring.along_the_wire, spring.load_curve.state(load=load))
    except SpecError as exc:
        raise out_of_reach(spring.along_the_wire, load, exc) from None
