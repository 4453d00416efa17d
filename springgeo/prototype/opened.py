"""The same spring with its coils apart: another pitch, the same coil, the same loops."""

from __future__ import annotations

from dataclasses import replace

from springgeo.curve import body_approach, pitch_for_distance
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.spring.end import End
from springgeo.spring.geometry import Geometry, assemble, turns_for_angle
from springgeo.spring.model import SpringModel
from springgeo.text.json_value import Json


def opened(model: SpringModel, state: Geometry, gap: float) -> Geometry:
    """Return a state with at least ``gap`` mm between neighbouring coils.

    Coil diameter, hand, loop and bend radii stay; the body gets longer, and with it the
    spring. A state whose coils are that far apart already comes back as it is.

    Raises
    ------
    SpecError
        An end cannot be made on the wider pitch.
    """
    wanted = state.wire_diameter + gap
    near = body_approach(state.path)
    if near is None or near.distance >= wanted * (1 - 1e-9):
        return state
    pitch = pitch_for_distance(state.coil_radius, wanted)
    end = BodyEnd(state.wire_diameter, state.coil_radius, pitch)
    a, b = (
        _kept(e, s).shape(end)
        for e, s in ((model.first, model.geometry.first), (model.second, model.geometry.second))
    )
    turns = state.turns
    if state.angle is not None:
        turns = turns_for_angle(turns, state.angle, state.hand, a, b)
    return assemble(end, turns, state.hand, a, b)


def _kept(end: End, shape: EndShape) -> End:
    """Return the end with the radii of the free spring's loop and bend."""
    fields = type(end.parameters).model_fields
    held: dict[str, Json] = {
        name: value
        for name in ("bend_radius", "loop_radius")
        if name in fields
        and getattr(end.parameters, name) is None
        and (value := getattr(shape, name)) is not None
    }
    return replace(end, parameters=end.parameters.model_copy(update=held))
