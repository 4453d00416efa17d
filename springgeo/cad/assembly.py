"""The spring with its mating parts as a CadQuery assembly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from cadquery import Assembly, Color, Location, Plane, Shape, Workplane

from springgeo.api import Spring
from springgeo.cad.frames import frame_face, frames
from springgeo.cad.parts import placed_parts
from springgeo.cad.solids import part_solid, state_of, vector_of
from springgeo.fit.mechanism import Motion
from springgeo.fit.seat import Part, Side, end_frame, seated
from springgeo.specification.mating import Mating
from springgeo.state import State

# what surrounds the spring must not hide it
_OPACITY = {"bore": 0.3}


def assembly(spring: Spring, state: State | None = None, mating: Mating | None = None) -> Assembly:
    """Return the spring and what it is hooked to, as named, coloured parts.

    Parts: ``spring``; ``a_swivel`` and the like of fitted ends; ``pin_a``, ``plate_b`` and the
    like; ``rod``, ``bore``. The spring carries the tags ``end_a``, ``end_b``, ``axis``
    (``"spring?end_a"`` in ``constrain``), each mating part the tag ``seat``, which lies on its
    end's frame.

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
            _tagged(part.shape, part.tags, state.geometry.diameter),
            name=part.name,
            color=Color(*part.colour, _OPACITY.get(part.kind, 1.0)),
            loc=part.place,
        )
    return out


def mating_of(spring: Spring, mating: Mating | None) -> Mating:
    """Return what was given, else what the specification says, else nothing."""
    return (spring.spec.mating or Mating()) if mating is None else mating


def poses(
    spring: Spring, states: Iterable[State], mating: Mating | None = None
) -> Iterator[Assembly]:
    """Yield the assembly in each state, end A at rest: frames of an animation."""
    for state in states:
        yield assembly(spring, state, mating)


def motion_poses(
    spring: Spring, motion: Motion, mating: Mating | None = None, every: int = 1
) -> Iterator[Assembly]:
    """Yield the assembly at every so many stations of a mechanism's motion, in its own frame.

    Where the spring is slack it is shown at its free length.
    """
    for i in range(0, len(motion.drive), every):
        length = max(spring.free_length, float(motion.length[i]))
        whole = assembly(spring, spring.at(length=length), mating)
        origin, x, z = (
            vector_of(v)
            for v in (motion.translation[i], motion.rotation[i][:, 0], motion.rotation[i][:, 2])
        )
        whole.loc = Location(Plane(origin, xDir=x, normal=z))
        yield whole


def tagged(state: State) -> Workplane:
    """Return the spring's solid on a workplane that carries the mate frames as tags."""
    return _tagged(state.solid(), frames(state), state.geometry.diameter)


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


def _tagged(shape: Shape, tags: Mapping[str, Location], size: float) -> Workplane:
    work = Workplane(obj=shape)
    for name, place in tags.items():
        work.newObject([frame_face(place, size)]).tag(name)
    return work
