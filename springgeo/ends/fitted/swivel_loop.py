r"""A rod bent to an eye or a hook: from the axis aside, then round a circle centred on the axis.

```
       .---.
      /     \
      |  +  |     r1, centred on the axis
      \     '     tip
       )
      |           knuckle: an arc aside, tangent to the circle
```
Guaranteed for index ≥ 5, 2 to 5 coils in the cone, end diameter 0.5 D to 0.7 D, eye or hook 1.6
shanks to 1.5 D inside. Common practice, no standard.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from pydantic import create_model

from springgeo.curve import Path, Piece
from springgeo.curve.root import bisect
from springgeo.ends.fitted import coned
from springgeo.ends.fitted.coned import Beyond, Cone, Coned
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle, Range
from springgeo.ends.shared import limits
from springgeo.ends.shared.axial_plane import AxialPlane
from springgeo.ends.shared.sketch import sketch_in
from springgeo.specification.quantity import Length

# radius of the knuckle, and the gap that an eye leaves to its neck, in rod radii
KNUCKLE, GAP = 1.6, 0.2
# least inside diameter of a loop, in rod diameters
LEAST = 1.6


def loop_diameter(field: str, value: float | None, shank: float, end: BodyEnd) -> float:
    """Return the inside diameter of a swivel's eye or hook, mm, or raise SpecError."""
    least = LEAST * shank
    usual = max(least, 1.2 * end.coil_radius - shank)
    return limits.between(
        field,
        usual if value is None else value,
        least,
        max(least, 4 * end.coil_radius),
        f"from {LEAST:g} times the shank to twice the body's mean diameter",
        "choose a diameter within it",
    )


def ranges(field: str, end: BodyEnd) -> Range:
    """Return the guaranteed ranges of a coned end with a loop of inside diameter ``field``, mm."""
    own = coned.ranges(end)
    if not own:
        return own
    # the shank is as thick as the end diameter lets it be, unless it is given
    thickest = max(own["shank_diameter"][1], own["end_diameter"][1] - 2 * end.wire_diameter)
    return {**own, field: (LEAST * thickest, 3 * end.coil_radius)}


def style(
    article: str, noun: str, loop: Callable[[float, Cone], Beyond], doc: str | None
) -> EndStyle:
    """Return the coned end whose swivel ends in a loop; its inside is ``<noun>_diameter``.

    ``doc`` is the docstring of the style's own file, with the sketch.
    """
    field = f"{noun}_diameter"
    own: dict[str, Any] = {field: (Length | None, None)}
    parameters = create_model(
        f"ConedSwivel{noun.title()}",
        __base__=Coned,
        __doc__=f"{(inspect.getdoc(Coned) or '').removesuffix('.')},\n"
        f"``{field}`` inside (0.6 D less the shank, at least {LEAST:g} shanks).",
        **own,
    )

    def beyond(p: Coned, c: Cone, end: BodyEnd) -> Beyond:
        return loop(loop_diameter(field, getattr(p, field), c.shank, end), c)

    def shape(p: Coned, end: BodyEnd) -> EndShape:
        return coned.swivel(p, end, beyond, field)

    return EndStyle(
        name=f"coned-swivel-{noun}",
        title=f"coned end with swivel {noun}",
        summary=f"The last coils close to a cone that holds {article} {noun}, free to turn: no "
        "hook stress.",
        sketch=sketch_in(doc),
        parameters=parameters,
        shape=shape,
        ranges=partial(ranges, field),
        holds_load=False,
    )


def eye(inside: float, c: Cone) -> Beyond:
    """Return a rod bent to an eye: closed but for a small gap at its neck."""
    shape = _Loop.of(inside, c)

    def too_near(past: float) -> float:
        return (1 + GAP) * shape.rod - shape.to_neck(past)

    return shape.beyond(1.5 * math.pi - bisect(too_near, 0.0, math.pi / 2))


def hook(inside: float, c: Cone) -> Beyond:
    """Return a rod bent to a hook: its tip 20° below the middle of the loop."""
    return _Loop.of(inside, c).beyond(math.pi + math.radians(20))


@dataclass(frozen=True)
class _Loop:
    """The rod in the plane through the axis: mm above the end of the shank, rad.

    ``up`` is the height of the loop's centre, ``lean`` the angle of the knuckle.
    """

    rod: float
    r1: float
    rb: float
    up: float
    lean: float
    top: float

    @classmethod
    def of(cls, inside: float, c: Cone) -> _Loop:
        rod = c.shank / 2
        r1, rb = inside / 2 + rod, KNUCKLE * rod
        up = math.sqrt(r1**2 + 2 * r1 * rb)  # the two arcs touch
        return cls(rod, r1, rb, up, math.atan2(up, rb), c.top)

    def to_neck(self, past: float) -> float:
        """Return how near the cut end comes to the neck's centreline, mm.

        The rod is cut ``past`` rad beyond the loop's lowest point; of the cut disc, the diameter
        in the loop's plane comes nearest.
        """
        across = [self.r1 + self.rod * k / 4 for k in range(-4, 5)]
        return min(self._distance(r * math.sin(past), self.up - r * math.cos(past)) for r in across)

    def _distance(self, u: float, z: float) -> float:
        """Return the distance from a point to shank, knuckle and the loop's first quarter, mm."""
        around = math.atan2(z, u + self.rb)
        aside = abs(math.hypot(u + self.rb, z) - self.rb)
        knuckle = aside if 0 <= around <= self.lean else math.inf
        turn = [math.pi + self.lean - k * math.pi / 32 for k in range(17)]
        loop = min(
            math.hypot(u - self.r1 * math.cos(a), z - self.up - self.r1 * math.sin(a)) for a in turn
        )
        return min(knuckle, loop, math.hypot(u, max(z, 0.0)))

    def beyond(self, sweep: float) -> Beyond:
        """Return the rod; ``sweep`` rad counts from the side where it comes up."""
        plane = AxialPlane(math.pi)
        knuckle = plane.arc((-self.rb, self.top), self.rb, 0.0, self.lean)
        loop = plane.arc(
            (0.0, self.top + self.up), self.r1, math.pi + self.lean, -(sweep + self.lean)
        )
        path = Path([Piece(knuckle, "knuckle", "straight"), Piece(loop, "loop", "loop")])
        inside = self.r1 - self.rod
        return path, self.up + inside, 2 * self.rod, (("inside diameter", 2 * inside),)
