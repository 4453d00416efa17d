"""What an overload leaves of a spring."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class After:
    """A spring that was drawn too far, and let go.

    Attributes
    ----------
    load, length : float, N and mm
        Of the overload.
    lengthened : float, mm
        By how much the length inside hooks stays greater without load.
    opened : (float or None, float or None), mm
        By how much the cut end of either hook stays further from the body; None for other ends.
    initial_tension : float, N
        What is left of it, as the trade measures it.
    """

    load: float
    length: float
    lengthened: float
    opened: tuple[float | None, float | None]
    initial_tension: float
