"""The spring in one state, for the view: its rings, what they are painted with, and its numbers.

As mounted, where its mating section makes that another than the straight pull.
"""

from __future__ import annotations

from functools import lru_cache

from springgeo.computed import ComputedSpring
from springgeo.errors import SpecError
from springgeo.report.stroke import Stroke
from springgeo.report.view import AROUND, view_data
from springgeo.state import State
from springgeo.summary.reach.states import out_of_reach
from springgeo.text.shown import Shown

# how far facets lie off the wire, in its diameters, corners of a ring, and share of the rings that
# this asks for: a little coarser than on the report
FINE = 0.04, AROUND, 1.0
# while a hand moves: the same state in a seventh of the facets, within 0.15 d of the wire
ROUGH = 0.1, 7, 0.75
# states kept: the spring as it is and as it was, roughly and then finely
_KEPT = 4


def shape(spring: ComputedSpring, load: float, shown: Shown, *, rough: bool) -> dict[str, object]:
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
    answer = {"view": data, "load": state.load, "length": state.length, "rough": rough}
    return answer | {"way": "mounted" if spring.is_mounted else ""}


@lru_cache(maxsize=_KEPT)
def _state(spring: ComputedSpring, load: float) -> State:
    try:
        if load > 0 and spring.is_mounted:
            return spring.mounted(loads=[load])[0]
        return State.of(spring.along_the_wire, spring.load_curve.state(load=load, for_view=True))
    except SpecError as exc:
        raise out_of_reach(spring.along_the_wire, load, exc) from None
