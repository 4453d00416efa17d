"""A segment with its name in the spring."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from springgeo.curve.segment import Segment

Role = Literal["body", "coil", "bend", "straight", "loop", "gripped"]


@dataclass(frozen=True, eq=False)
class Piece:
    """A segment with its name in the spring.

    ``role`` says what a stress check looks for there: ``bend`` next to the body (point B),
    ``loop`` (point A), ``body``, ``coil`` (coils that an end winds beside the body's),
    ``straight`` (any other wire), or ``gripped``: wire that a fitting holds, beyond where the
    load leaves it.
    """

    segment: Segment
    label: str
    role: Role
