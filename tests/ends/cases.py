"""Springs to try an end style on: seeded random ones, and the same as a hypothesis strategy."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass

from hypothesis import strategies as st

from springgeo.curve import pitch_for_distance
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle
from springgeo.specification.wire import Hand
from springgeo.spring.geometry import Geometry, assemble, turns_for_angle

CLEARANCE = 1.002
# everything a random spring needs is drawn from numbers in 0..1, so that both ways of drawing
# (a seeded generator, hypothesis) share the code below
Draw = Callable[[], float]


@dataclass(frozen=True)
class Case:
    """One spring: both ends by style and parameters (mm), body end, turns, hand, angle (rad)."""

    a: EndStyle
    b: EndStyle
    parameters: tuple[dict[str, float], dict[str, float]]
    body: BodyEnd
    turns: float
    hand: Hand
    angle: float | None

    def shapes(self) -> tuple[EndShape, EndShape]:
        """Return both ends as the styles make them."""
        a, b = (
            style.shape(style.parameters(**given), self.body)
            for style, given in zip((self.a, self.b), self.parameters, strict=True)
        )
        return a, b

    def build(self, hand: Hand | None = None) -> Geometry:
        """Return the spring's centreline, of the other ``hand`` if asked."""
        a, b = self.shapes()
        turns = self.turns
        if self.angle is not None and None not in (a.azimuth, b.azimuth):
            turns = turns_for_angle(turns, self.angle, self.hand, a, b)
        return assemble(self.body, turns, hand or self.hand, a, b)


def body_end(index: float, diameter: float, pitch: float | None = None) -> BodyEnd:
    """Return the end of a body wound solid, or open with ``pitch`` in wire diameters."""
    radius = index * diameter / 2
    solid = pitch_for_distance(radius, CLEARANCE * diameter)
    return BodyEnd(diameter, radius, solid if pitch is None else pitch * diameter)


def random_case(style: EndStyle, seed: int) -> Case:
    """Return a spring with ``style`` at end A and any style at B; the same for the same seed."""
    return _case(style, random.Random(f"{style.name} {seed}").random)


@st.composite
def cases(draw: st.DrawFn, style: EndStyle) -> Case:
    """Return a hypothesis strategy for the same springs; hypothesis also tries the corners."""
    number = st.floats(0.0, 1.0, allow_subnormal=False)
    return _case(style, lambda: draw(number))


def _case(style: EndStyle, draw: Draw) -> Case:
    index = _between(draw(), 3.0, 25.0, log=True)
    diameter = _between(draw(), 0.05, 20.0, log=True)
    pitch = None if draw() < 0.7 else _between(draw(), 1.05, 5.0)
    body = body_end(index, diameter, pitch)
    # where the body admits nothing of a style, a plain end stands in
    plain = registry.get("plain")
    others = [s for s in registry.styles().values() if s.ranges(body)] or [plain]
    a = style if style.ranges(body) else plain
    b = style if draw() < 0.5 else others[int(draw() * len(others) * 0.999)]
    b = b if b.ranges(body) else plain
    return Case(
        a,
        b,
        (_parameters(a, body, draw), _parameters(b, body, draw)),
        body,
        turns=_between(draw(), 2.0, 9.0),
        hand="right" if draw() < 0.5 else "left",
        angle=None if draw() < 0.3 else _between(draw(), 0.0, math.pi),
    )


def _parameters(style: EndStyle, body: BodyEnd, draw: Draw) -> dict[str, float]:
    """Return each parameter left out, or anywhere in its range, ends of the range included."""
    chosen = {}
    for name, (low, high) in style.ranges(body).items():
        if draw() > 0.2:
            # a tenth of the draws falls on either end of the range
            share = min(1.0, max(0.0, 1.25 * draw() - 0.125))
            chosen[name] = low + share * (high - low)
    return chosen


def _between(share: float, low: float, high: float, *, log: bool = False) -> float:
    if log:
        return min(high, max(low, low * (high / low) ** share))
    return low + share * (high - low)
