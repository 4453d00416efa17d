"""The spring in one state, for the view: its rings, what they are painted with, and its numbers."""

from __future__ import annotations

from typing import Any

from springgeo.computed import ComputedSpring
from springgeo.errors import SpecError
from springgeo.report.stroke import Stroke
from springgeo.report.view import view_data
from springgeo.state import State
from springgeo.summary.reach import out_of_reach
from springgeo.text.shown import Shown

# facets a little coarser than on the report: they are made anew at every move
CHORD = 0.04


def shape(spring: ComputedSpring, load: float, shown: Shown) -> dict[str, Any]:
    """Return the data of the view under a load, N.

    Raises
    ------
    SpecError
        The load is beyond what the wire can be drawn to.
    """
    try:
        state = State.of(spring.along_the_wire, spring.load_curve.state(load=load))
    except SpecError as exc:
        raise out_of_reach(spring.along_the_wire, load, exc) from None
    data = view_data(spring, Stroke((state,), (), state.load, ""), shown, CHORD)
    return {"view": data, "load": state.load, "length": state.length}
