"""Which working points can be measured on the spring alone, and which it has as mounted alone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from springgeo.results.along_wire import WirePoint
from springgeo.results.handbook import WorkingPoint


class Pointed(Protocol):
    """A summary, or as much of it as is asked for."""

    @property
    def points(self) -> tuple[WorkingPoint, ...]:
        """The working points, pulled straight, by rising load."""
        ...

    @property
    def mounted(self) -> tuple[WirePoint, ...]:
        """Those with load as mounted."""
        ...


def measured_points(s: Pointed) -> Sequence[tuple[int, WorkingPoint]]:
    """Return the working points, with their numbers, that a spring pulled straight comes to."""
    return [(k, p) for k, p in enumerate(s.points, 1) if not p.is_slack]


def taut_as_mounted(s: Pointed) -> Sequence[tuple[int, WirePoint]]:
    """Return the others as mounted, with their numbers."""
    # what has no load as mounted comes first
    there = zip(reversed(list(enumerate(s.points, 1))), reversed(s.mounted), strict=False)
    return [(k, p) for (k, straight), p in reversed(list(there)) if straight.is_slack]
