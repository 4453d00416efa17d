"""The spring with its mating parts as a CadQuery assembly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import numpy as np
from cadquery import Assembly, Color, Location, Plane, Shape, Workplane

from springgeo.cad.frames import frame_face, frames
from springgeo.cad.parts import placed_parts
from springgeo.cad.solids import part_solid, state_of, vector_of
from springgeo.computed import ComputedSpring
from springgeo.curve.frame import Array, unit
from springgeo.equilibrium.hung import to_z
from springgeo.fit.mechanism import Motion
from springgeo.fit.seat import Mate, end_frame, pin_middle, seated
from springgeo.specification.end_names import SIDES, Side
from springgeo.specification.mating import Mating
from springgeo.state import State

# what surrounds the spring must not hide it
_OPACITY = {"bore": 0.3}
# how near pins come to where they are, mm, and in how many rounds
_MET, _ROUNDS = 1e-9, 8


def assembly(
    spring: ComputedSpring, state: State | None = None, mating: Mating | None = None
) -> Assembly:
    """Return the spring and what it is hooked to, as named, coloured parts.

    Parts: ``spring``; ``first_swivel`` and the like of fitted ends; ``pin_first``, ``plate_second``
    and the like; ``rod``, ``bore``. The spring carries the tags ``first_end``, ``second_end``,
    ``axis`` (``"spring?first_end"`` in ``constrain``), each mating part the tag ``seat``, which
    lies on its end's frame.

    Parameters
    ----------
    spring : Spring
    state : State, optional
        The free state if left out.
    mating : Mating, optional
        That of the specification if left out.
    """
    state = state_of(spring) if state is None else state
    out = Assembly(name=spring.spec.name)
    for part in placed_parts(state, mating_of(spring, mating)):
        out.add(
            _tagged(part.shape, part.tags, state.geometry.wire_diameter),
            name=part.name,
            color=Color(*part.colour, _OPACITY.get(part.kind, 1.0)),
            loc=part.place,
        )
    return out


def mating_of(spring: ComputedSpring, mating: Mating | None) -> Mating:
    """Return what was given, else what the specification says, else nothing."""
    return (spring.spec.mating or Mating()) if mating is None else mating


def poses(
    spring: ComputedSpring, states: Iterable[State], mating: Mating | None = None
) -> Iterator[Assembly]:
    """Yield the assembly in each state, end A at rest: frames of an animation."""
    for state in states:
        yield assembly(spring, state, mating)


def motion_poses(
    spring: ComputedSpring, motion: Motion, mating: Mating | None = None, every: int = 1
) -> Iterator[Assembly]:
    """Yield the assembly at every so many stations of a mechanism's motion, in its own frame.

    Where the spring is slack it is shown at its free length. Loaded hooks lean, so that their pins
    stand a little beside the line of pull: the spring is turned, and drawn by as much more, that
    both hold their pins.
    """
    for i in range(0, len(motion.drive), every):
        state, fixed, apart = _held(spring, motion, i)
        whole = assembly(spring, state, mating)
        turn = motion.rotation[i] @ to_z(unit(apart))
        pin = motion.translation[i] + motion.pins[0] / 2 * motion.rotation[i][:, 2]
        origin = pin - turn @ fixed
        whole.loc = Location(
            Plane(vector_of(origin), xDir=vector_of(turn[:, 0]), normal=vector_of(turn[:, 2]))
        )
        yield whole


def _held(spring: ComputedSpring, motion: Motion, i: int) -> tuple[State, Array, Array]:
    """Return the state whose pins stand as far apart as a motion's, one of them, and the way."""
    length = max(spring.free_length, float(motion.length[i]))
    distance = length - sum(motion.pins) / 2
    for _ in range(_ROUNDS):
        state = spring.at(length=length)
        fixed, moving = (
            pin_middle(state.geometry, side, pin)
            for side, pin in zip(SIDES, motion.pins, strict=True)
        )
        off = distance - float(np.linalg.norm(moving - fixed))
        if abs(off) < _MET or length + off < spring.free_length:
            break
        length += off
    return state, fixed, moving - fixed


def tagged(state: State) -> Workplane:
    """Return the spring's solid on a workplane that carries the mate frames as tags."""
    return _tagged(state.solid(), frames(state), state.geometry.wire_diameter)


def seated_solid(state: State, side: Side, part: Mate) -> Shape:
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


def _tagged(shape: Shape, tags: Mapping[str, Location], size: float) -> Workplane:
    work = Workplane(obj=shape)
    for name, place in tags.items():
        work.newObject([frame_face(place, size)]).tag(name)
    return work
