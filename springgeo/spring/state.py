"""The spring under load: coils open, their diameter falls, the wire keeps its length.

The wire's length is conserved; turns follow from holding the loop planes at their angle, as pins
do; hooks keep their radii. Checked against non-linear finite elements (tests/spring): at a
pitch of 2.5 wire diameters the mean diameter agrees within 0.1 %.
"""

from __future__ import annotations

import math
from dataclasses import replace

from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.spring.geometry import Geometry, assemble
from springgeo.spring.model import End, SpringModel

_TOLERANCE = 1e-12
_ROUNDS = 200


def at_length(model: SpringModel, length: float) -> Geometry:
    """Return the geometry at a length inside hooks, mm.

    Solves for pitch and coil radius: the length closes, the wire's length is that of the free
    spring. At the free length it is the free geometry itself.

    Raises
    ------
    SpecError
        Shorter than the free length, or so long that the coils would be drawn straight.
    """
    free = model.geometry
    if not math.isfinite(length):
        raise SpecError(error("bad-value", "length", "needs a finite length"))
    if abs(length - free.length) <= _TOLERANCE * free.length:
        return free
    if length < free.length:
        raise SpecError(
            error(
                "length-below-free",
                "length",
                f"{length:.6g} mm is below the free "
                f"length {free.length:.6g} mm; an extension spring cannot be "
                "pushed: give a longer one",
            )
        )
    ends = _kept(model.a, free.a), _kept(model.b, free.b)
    # hooks lift and give up wire as the pitch grows: with few turns to share it out, that is
    # approached in smaller steps
    share = free.turns / (free.turns + 1.5)
    state, stretch = free, (0.0, 0.0)
    for _ in range(_ROUNDS):
        after = _improved(free, state, ends, stretch, length, share)
        stretch = (
            stretch[0] + share * (_span(free.a) - _span(after.a)),
            stretch[1] + share * (_span(free.b) - _span(after.b)),
        )
        done = (
            abs(after.radius - state.radius) < _TOLERANCE * free.radius
            and abs(after.length - length) < _TOLERANCE * length
        )
        state = after
        if done:
            return state
    raise _too_long(length)


def _improved(
    free: Geometry,
    state: Geometry,
    ends: tuple[End, End],
    stretch: tuple[float, float],
    length: float,
    share: float,
) -> Geometry:
    """Return a better state: close the length by pitch, the wire by radius, the angle by turns."""
    wanted = (length - state.a.hook_length - state.b.hook_length - free.diameter) / state.turns
    pitch = state.pitch + share * (wanted - state.pitch)
    wire = free.path.length - _span(state.a) - _span(state.b)
    across = wire**2 - (state.turns * pitch) ** 2
    if across <= 0 or math.sqrt(across) < math.pi * state.turns * free.radius:
        raise _too_long(length)
    radius = math.sqrt(across) / (2 * math.pi * state.turns)
    a, b = (
        end.shape(BodyEnd(free.diameter, radius, pitch, free.radius, extra))
        for end, extra in zip(ends, stretch, strict=True)
    )
    drift = _azimuths(a, b) - _azimuths(free.a, free.b)
    body_end = BodyEnd(free.diameter, radius, pitch)
    return assemble(body_end, free.turns - drift / (2 * math.pi), free.hand, a, b)


def _kept(end: End, shape: EndShape) -> End:
    """Return the end with the radii of its free shape written into its parameters."""
    held = {
        name: getattr(shape, name)
        for name in end.style.keeps
        if name in type(end.parameters).model_fields
        and getattr(end.parameters, name) is None
        and getattr(shape, name) is not None
    }
    return replace(end, parameters=end.parameters.model_copy(update=held))


def _span(shape: EndShape) -> float:
    return sum(p.segment.length for p in shape.pieces)


def _azimuths(a: EndShape, b: EndShape) -> float:
    return (a.azimuth or 0.0) + (b.azimuth or 0.0)


def _too_long(length: float) -> SpecError:
    return SpecError(
        error(
            "length-out-of-reach",
            "length",
            f"{length:.6g} mm would draw the "
            "coils to less than half their diameter; give a shorter length",
        )
    )
