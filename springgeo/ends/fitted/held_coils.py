"""Coils that a fitting holds: closed and rigid, whatever the body does.

The body's last coil first settles to the radius and the closed pitch on which the fitting was
made; from there on nothing moves when the spring is loaded, so that the fitting keeps its seat.
Coils held by a fitting count in all coils, not in the active ones (EN 13906-2: rolled-in and
screwed-in ends).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from springgeo.curve import Path, Piece, Segment, pitch_for_distance
from springgeo.curve.frame import Array, rotation_z, vector
from springgeo.curve.kinds.eased_coil import EasedCoil
from springgeo.ends.protocol import BodyEnd
from springgeo.ends.shared import limits
from springgeo.trade.practice import practice

# between touching coils, in wire diameters: as in the body
CLEARANCE = practice("coil_clearance")
# turns in which the body's last coil settles to the held ones
SETTLING = 0.5


@dataclass(frozen=True)
class HeldCoils:
    """Where the held coils start: mm and rad in the frame of the body's end.

    ``coil_radius`` and ``pitch`` are those of the rigid coils, which start at ``lift`` above P,
    turned by ``spin`` about the axis.
    """

    wire_diameter: float
    coil_radius: float
    pitch: float
    settle: EasedCoil

    @classmethod
    def of(cls, end: BodyEnd) -> HeldCoils:
        """Return the held coils of a body end, free or loaded."""
        pitch = closed_pitch(end)
        settle = EasedCoil(
            radius=end.coil_radius,
            end_radius=end.coil_radius,
            pitch=end.pitch,
            end_pitch=pitch,
            turns=SETTLING,
        )
        return cls(end.wire_diameter, end.coil_radius, pitch, settle)

    @property
    def lift(self) -> float:
        """Height above P at which the rigid coils start, mm."""
        return self.settle.rise

    @property
    def place(self) -> tuple[Array, Array]:
        """Axes and origin of the frame in which the rigid coils start at ``(R, 0, 0)``."""
        turned = 2 * math.pi * self.settle.turns
        return rotation_z(turned), vector(0.0, 0.0, self.lift)

    def pieces(self, rigid: Segment) -> tuple[Piece, ...]:
        """Return the settling coil and the rigid ones, given in their own frame."""
        held = Path([Piece(rigid, "held-coils", "gripped")]).moved(*self.place)
        return (Piece(self.settle, "settling-coil", "gripped"), *held.pieces)


def closed_pitch(end: BodyEnd) -> float:
    """Return the pitch of held coils, mm: touching but for the usual clearance."""
    return pitch_for_distance(end.coil_radius, end.wire_diameter * (1 + CLEARANCE))


def coil_count(value: float | None, usual: float, least: float, most: float) -> float:
    """Return how many coils the fitting holds, or raise SpecError."""
    return limits.coils(value, usual, least, most, "held", "held by the fitting")
