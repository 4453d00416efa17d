"""Where a candidate of a search stands."""

from __future__ import annotations

from typing import NamedTuple


class Place(NamedTuple):
    """Line and end pair by number, wire by row, index C."""

    line: int
    ends: int
    wire: int
    C: float
