"""The fit of one end on its mating part, in one state of the spring."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from springgeo.curve import Piece
from springgeo.curve.frame import Array, Frame, vector
from springgeo.equilibrium.state.loaded_geometry import LoadedGeometry
from springgeo.fit.bounds import MEETS, greatest, least
from springgeo.fit.clearance import Clearance, Pair, clearance, clearances
from springgeo.fit.model import EndFit, Entry, Gap, Hold
from springgeo.fit.mouth import Mouth, mouth
from springgeo.fit.obstacles import Moved
from springgeo.fit.seat import (
    EndFrame,
    Mate,
    edge_lift,
    end_frame,
    pin_direction,
    seat_centre,
    seat_radius,
    seated,
)
from springgeo.fit.swing import swing
from springgeo.fit.wire import Wire
from springgeo.specification.end_names import Side
from springgeo.specification.mating import Pin, Plate
from springgeo.spring.geometry import Geometry


@dataclass(frozen=True, eq=False)
class EndCase:
    """One end to be fitted: its frame, the part seated in it, and whose hook it is.

    ``hook`` is the spring itself, or the rod of a swivel that the end holds.
    """

    side: Side
    frame: EndFrame
    part: Mate
    hook: Geometry

    @property
    def held(self) -> bool:
        """Whether the hook is not the spring's own wire."""
        return bool(self.hook.turns == 0.0)

    def own(self) -> Clearance:
        """Return the clearance of the part to the rod of a swivel."""
        rod = Wire.of(self.hook.path, self.hook.wire_diameter)
        return clearance(rod, seated(self.frame, self.part))

    def pairs(self, wire: Wire) -> list[Pair]:
        """Return what is to be measured: the part against the end's own wire, and the body.

        The hook of a swivel is measured by itself, and all wire is its neighbour.
        """
        shape = seated(self.frame, self.part)
        if self.held:
            return [(shape, wire.all)]
        own = wire.mask(lambda p: p.label.startswith(f"{self.side}."))
        return [(shape, own), (shape, wire.mask(is_body))]

    def further(self, wire: Wire, distance: float) -> float | None:
        """Return how much further along the axis the part clears the body, mm.

        ``distance`` to it now, mm. None where there is enough, or none is enough.
        """
        if distance >= MEETS:
            return None
        shape, body = seated(self.frame, self.part), wire.mask(is_body)
        sign = 1.0 if self.side == "second" else -1.0

        def beyond(way: float) -> float:
            moved = Moved(shape, Frame(vector(0.0, 0.0, sign * way)))
            return clearances(wire, [(moved, body)])[0].distance

        return least(-distance, 0.005 * wire.wire_radius, beyond)


def end_fit(wire: Wire, case: EndCase, measured: Sequence[Clearance], play: float) -> EndFit:
    """Return how an end sits on its part.

    Parameters
    ----------
    wire : Wire
        The stations of the spring's whole wire.
    case : EndCase
    measured : sequence of Clearance
        Of the part to the hook, and to the wire beside it.
    play : float, mm
        How far the mounts may come nearer than the free length.
    """
    side, frame, part, geometry = case.side, case.frame, case.part, case.hook
    hook, neighbour = map(gap, measured)
    way = mouth(geometry, frame, side)
    rest = _mouth_at_rest(geometry, side) or way
    rock = swing(geometry, frame, side, part)
    wire = Wire.of(geometry.path, geometry.wire_diameter) if case.held else wire
    hold, margin = _hold(part, rest, play)
    meets = min(hook.distance, neighbour.distance) < -1e-4 * geometry.wire_diameter
    return EndFit(
        part="pin" if isinstance(part, Pin) else "plate" if isinstance(part, Plate) else "stud",
        seat=xyz(_middle(frame, part)),
        direction=xyz(frame.turn(pin_direction(part))),
        inside=None if math.isinf(frame.inside) else 2 * frame.inside,
        hook=hook,
        neighbour=neighbour,
        mouth=way.width,
        mouth_label=way.label,
        lift=way.lift,
        mouth_free=rest.width,
        lift_free=rest.lift,
        entry=_entry(part, rest, frame),
        hold=hold,
        margin=margin,
        swing_in_plane=_degrees(rock.in_plane),
        swing_across=_degrees(rock.across),
        side_room=_side_room(part, frame),
        largest=largest_pin(wire, frame, part) if meets and isinstance(part, Pin) else None,
        further=case.further(wire, neighbour.distance) if meets and not case.held else None,
    )


def _mouth_at_rest(geometry: Geometry, side: Side) -> Mouth | None:
    """Return the mouth of a loaded hook as drawn: hooks are hung on, and drop off, without load."""
    return _drawn_mouth(geometry.drawn, side) if isinstance(geometry, LoadedGeometry) else None


@lru_cache(maxsize=4)
def _drawn_mouth(drawn: Geometry, side: Side) -> Mouth | None:
    """Return the mouth of an end as drawn, once for all states of a stroke."""
    frame = end_frame(drawn, side)
    return None if frame is None else mouth(drawn, frame, side)


def largest_pin(wire: Wire, frame: EndFrame, part: Pin) -> float:
    """Return the greatest diameter, mm, of a pin seated like ``part`` that meets no wire.

    ``wire`` holds the whole spring; 0 if even a thin one meets it.
    """

    def distance(diameter: float) -> float:
        trial = seated(frame, part.model_copy(update={"diameter": diameter}))
        return clearance(wire, trial).distance

    return greatest(min(2 * frame.inside, part.diameter), 0.005 * wire.wire_radius, distance)


def passage(part: Mate) -> float:
    """Return the least opening that lets the hook over a part, mm.

    A pin or the groove of a stud passes with its diameter, a plate with the smaller side of the
    web between hole and edge.
    """
    if isinstance(part, Plate):
        return min(part.thickness, part.web)
    return 2 * seat_radius(part)


def is_body(piece: Piece) -> bool:
    """Return whether a piece belongs to the coiled body."""
    return piece.role == "body"


def gap(c: Clearance) -> Gap:
    """Return a clearance as a value of the report."""
    return Gap(distance=c.distance, label=c.label, s=c.s, point=c.point)


def xyz(v: Array) -> tuple[float, float, float]:
    """Return ``(3,) float`` as a tuple."""
    return float(v[0]), float(v[1]), float(v[2])


def _middle(frame: EndFrame, part: Mate) -> Array:
    if isinstance(part, Plate):
        lift = edge_lift(frame.inside, part.thickness / 2)
        local = np.array([0.0, 0.0, lift - part.hole_diameter / 2])
    else:
        local = seat_centre(frame.wire, seat_radius(part), pin_direction(part))
    middle: Array = frame.origin + frame.turn(local)
    return middle


def _entry(part: Mate, way: Mouth, frame: EndFrame) -> Entry:
    if way.width >= passage(part):
        return "over"
    if isinstance(part, Plate):
        return "no"
    return "thread" if part.diameter <= 2 * frame.inside else "no"


def _hold(part: Mate, way: Mouth, play: float) -> tuple[Hold, float | None]:
    if way.width < passage(part):
        return "captive", None
    return ("held" if play < way.lift else "falls off"), way.lift - play


def _side_room(part: Mate, frame: EndFrame) -> float:
    if isinstance(part, Plate):
        return (part.hole_diameter - frame.wire) / 2
    return ((part.length if isinstance(part, Pin) else part.groove_width) - frame.wire) / 2


def _degrees(pair: tuple[float, float] | None) -> tuple[float, float] | None:
    return None if pair is None else (math.degrees(pair[0]), math.degrees(pair[1]))
