"""What screwed-in fittings share: coils of the body's own size, held from inside."""

from __future__ import annotations

from springgeo.curve import Helix
from springgeo.ends.fitted.held_coils import HeldCoils, coil_count
from springgeo.ends.protocol import BodyEnd

# coils held unless asked for, and how few hold nothing or how many nobody screws in (common
# practice: three to four)
COILS, FEWEST, MOST = 3.5, 2.0, 10.0
# from the fitting to the wire, in wire diameters
PLAY = 0.02


def coils(value: float | None, end: BodyEnd) -> tuple[HeldCoils, Helix]:
    """Return the held coils of a body end and the rigid ones in their own frame."""
    held = HeldCoils.of(end)
    count = coil_count(value, COILS, FEWEST, MOST)
    return held, Helix(radius=held.coil_radius, pitch=held.pitch, turns=count)
