"""The spring with its mating parts as a CadQuery assembly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from cadquery import Assembly, Color, Location, Shape, Workplane

from springgeo.api import Spring
from springgeo.cad.frames import frame_face, frames
from springgeo.cad.solids import bore_solid, part_solid, state_of
from springgeo.fit.seat import EndFrame, Part, Side, end_frame, seated
from springgeo.fit.state import rod_shape
from springgeo.spec.mating import Mating, Pin, Plate
from springgeo.state import State

_STEEL = Color(0.72, 0.74, 0.78)
_COLOURS = {
    "pin": Color(0.80, 0.55, 0.20),
    "stud": Color(0.80, 0.55, 0.20),
    "plate": Color(0.35, 0.50, 0.70),
    "rod": Color(0.55, 0.60, 0.55),
    "bore": Color(0.60, 0.80, 0.90, 0.30),
}


def assembly(spring: Spring, state: State | None = None, mating: Mating | None = None) -> Assembly:
    """Return the spring and what it is hooked to, as named, coloured parts.

    Parts: ``spring``; ``pin_a``, ``plate_b`` and the like; ``bore``, ``rod``. The spring carries
    the tags ``end_a``, ``end_b``, ``axis`` (``"spring?end_a"`` in ``constrain``), each mating part
    the tag ``seat``, which lies on its end's frame.

    Parameters
    ----------
    spring : Spring
    state : State, optional
        The free state if left out.
    mating : Mating, optional
        That of the specification if left out.
    """
    state = state_of(spring) if state is None else state
    mating = (spring.spec.mating or Mating()) if mating is None else mating
    geometry, places = state.geometry, frames(state)
    out = Assembly(name=spring.spec.name)
    out.add(tagged(state), name="spring", color=_STEEL)
    for side, mate in (("a", mating.a), ("b", mating.b)):
        frame = end_frame(geometry, "a" if side == "a" else "b")
        if mate is None or frame is None:
            continue
        kind = kind_of(mate.part)
        out.add(
            _mate(frame, mate.part),
            name=f"{kind}_{side}",
            color=_COLOURS[kind],
            loc=places[f"end_{side}"],
        )
    if mating.around.rod is not None:
        out.add(
            part_solid(rod_shape(geometry, mating.around.rod)), name="rod", color=_COLOURS["rod"]
        )
    if mating.around.bore is not None:
        low = geometry.a.hook_length
        out.add(
            bore_solid(mating.around.bore.diameter / 2, low, low + geometry.body_length),
            name="bore",
            color=_COLOURS["bore"],
        )
    return out


def poses(
    spring: Spring, states: Iterable[State], mating: Mating | None = None
) -> Iterator[Assembly]:
    """Yield the assembly in each state, end A at rest: frames of an animation."""
    for state in states:
        yield assembly(spring, state, mating)


def tagged(state: State) -> Workplane:
    """Return the spring's solid on a workplane that carries the mate frames as tags."""
    work = Workplane(obj=state.solid())
    for name, place in frames(state).items():
        work.newObject([frame_face(place, state.geometry.diameter)]).tag(name)
    return work


def kind_of(part: Part) -> str:
    """Return ``pin``, ``plate`` or ``stud``."""
    return "pin" if isinstance(part, Pin) else "plate" if isinstance(part, Plate) else "stud"


def seated_solid(state: State, side: Side, part: Part) -> Shape:
    """Return a mating part as a solid in the spring's frame, at its seat.

    Raises
    ------
    ValueError
        The end has no hook.
    """
    frame = end_frame(state.geometry, side)
    if frame is None:
        raise ValueError(f"end {side} has no hook to hold a part; choose another end style")
    return part_solid(seated(frame, part))


def _mate(frame: EndFrame, part: Part) -> Workplane:
    home = EndFrame(np.zeros(3), np.eye(3), frame.s, frame.wire, frame.inside)
    work = Workplane(obj=part_solid(seated(home, part)))
    work.newObject([frame_face(Location(), frame.wire)]).tag("seat")
    return work
