"""The spring under load: coils open, their diameter falls, the wire keeps its length.

The wire's length is conserved; turns follow from holding the loop planes at their angle, as pins
do; hooks keep their radii. Checked against non-linear finite elements (tests/spring): at a
pitch of 2.5 wire diameters the mean diameter agrees within 0.1 %.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.spring.bent import BentEnd, span
from springgeo.spring.geometry import Geometry, assemble
from springgeo.spring.model import SpringModel
from springgeo.text import quantity as q
from springgeo.text.shown import said

_TOLERANCE = 1e-12
_QUICK, _ROUNDS = 30, 400


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
                said(
                    "{length} is below the free length {free}; an extension spring cannot be "
                    "pushed: give a longer one",
                    length=q.length(length, 6),
                    free=q.length(free.length, 6),
                ),
            )
        )
    pull = Pull(free, model.bent, length)
    return _quick(pull) or _steady(pull)


@dataclass(frozen=True, eq=False)
class Pull:
    """A free spring drawn to a length.

    The unknowns are one vector ``(4,) float, mm``: pitch, coil radius, and the wire that the
    bend of A and of B gives up. Hooks lift and give up wire as the pitch grows, so the vector
    that closes length and wire depends on the vector the ends were bent with.
    """

    free: Geometry
    ends: tuple[BentEnd, BentEnd]
    length: float

    @property
    def start(self) -> Array:
        """The free spring's vector."""
        return np.array([self.free.pitch, self.free.radius, 0.0, 0.0])

    def shapes(self, x: Array) -> tuple[EndShape, EndShape]:
        """Return both ends on a body of this pitch and radius."""
        pitch, radius, *stretch = x.tolist()
        a, b = self.ends
        first = a.end.shape(self._on(radius, pitch, stretch[0]))
        if stretch[0] == stretch[1] and a.like(b):
            return first, first
        return first, b.end.shape(self._on(radius, pitch, stretch[1]))

    def _on(self, radius: float, pitch: float, stretch: float) -> BodyEnd:
        return BodyEnd(self.free.diameter, radius, pitch, self.free.radius, stretch)

    def turns(self, a: EndShape, b: EndShape) -> float:
        """Return the turns that hold the loop planes at their angle."""
        drift = _azimuths(a, b) - _azimuths(self.free.a, self.free.b)
        return self.free.turns - drift / (2 * math.pi)

    def missing(self, x: Array, a: EndShape, b: EndShape, share: float = 1.0) -> Array:
        """Return what the vector lacks to close length and wire with these ends.

        Of what the pitch lacks, only a ``share`` is taken, and the radius made to suit.
        """
        free, turns = self.free, self.turns(a, b)
        wanted = (self.length - a.hook_length - b.hook_length - free.diameter) / turns
        pitch = x[0] + share * (wanted - x[0])
        across = (free.path.length - span(a) - span(b)) ** 2 - (turns * pitch) ** 2
        if across <= 0 or math.sqrt(across) < math.pi * turns * free.radius:
            raise _too_long(self.length)
        radius = math.sqrt(across) / (2 * math.pi * turns)
        given = (
            share * (span(end.free) - span(shape)) if end.takes_up else 0.0
            for end, shape in zip(self.ends, (a, b), strict=True)
        )
        return np.array([pitch - x[0], radius - x[1], *given])

    def closed(self, missing: Array) -> bool:
        """Return whether nothing worth the name is missing."""
        return (
            abs(missing[0]) * self.free.turns < _TOLERANCE * self.length
            and float(np.abs(missing[1:]).max()) < _TOLERANCE * self.free.radius
        )

    def geometry(self, x: Array, a: EndShape, b: EndShape) -> Geometry:
        """Return the whole spring."""
        body_end = BodyEnd(self.free.diameter, float(x[1]), float(x[0]))
        return assemble(body_end, self.turns(a, b), self.free.hand, a, b)


def _quick(pull: Pull) -> Geometry | None:
    """Return the state by Broyden's method (his first), or None where that strays."""
    x, (a, b), inverse = pull.start, (pull.free.a, pull.free.b), np.eye(4)
    try:
        missing = pull.missing(x, a, b)
        for _ in range(_QUICK):
            if pull.closed(missing):
                return pull.geometry(x, a, b)
            step = inverse @ missing
            x = x + step
            a, b = pull.shapes(x)
            left = pull.missing(x, a, b)
            turned = inverse @ (missing - left)
            inverse += np.outer(step - turned, step @ inverse) / float(step @ turned)
            missing = left
    except (SpecError, ArithmeticError, ValueError):
        pass
    return None


def _steady(pull: Pull) -> Geometry:
    """Return the state by small steps: with few turns the ends answer as strongly as the body."""
    turns = pull.free.turns
    share = turns / (turns + 1.5)
    x, (a, b) = pull.start, (pull.free.a, pull.free.b)
    for _ in range(_ROUNDS):
        missing = pull.missing(x, a, b, share)
        if pull.closed(missing):
            return pull.geometry(x, a, b)
        x = x + missing
        a, b = pull.shapes(x)
    raise _too_long(pull.length)


def _azimuths(a: EndShape, b: EndShape) -> float:
    return (a.azimuth or 0.0) + (b.azimuth or 0.0)


def _too_long(length: float) -> SpecError:
    return SpecError(
        error(
            "length-out-of-reach",
            "length",
            said(
                "{length} would draw the coils to less than half their diameter; give a shorter "
                "length",
                length=q.length(length, 6),
            ),
        )
    )
