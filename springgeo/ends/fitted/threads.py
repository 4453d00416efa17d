"""A fitting's thread: by its standard name, by a diameter, or the nearest one of a series."""

from __future__ import annotations

from typing import Any

from springgeo.ends.protocol import ByUnits
from springgeo.ends.shared import limits
from springgeo.errors import refused
from springgeo.trade.threads import SERIES, Thread, by_diameter, named, nearest


def chosen(
    p: Any, field: str, usual: float, span: tuple[float, float], upto: str
) -> tuple[float, Thread | None]:
    """Return the outside diameter of a thread, mm, and the standard thread it is, if any.

    ``p.thread`` or the parameter ``field`` of ``p``; with neither, the coarse thread nearest to
    ``usual`` mm within ``span``, or ``usual`` itself where none lies there: a metric one, or of the
    series that ``p.thread`` names.
    """
    given: float | None = getattr(p, field)
    series = None if p.thread is None else SERIES.get(p.thread.strip().upper())
    if p.thread is not None and series is None:
        if given is not None:
            raise refused(
                "two-forms", "thread", f"thread and {field} say the same thing; keep one of them"
            )
        thread = named(p.thread)
        if thread is None:
            raise refused(
                "unknown-thread",
                "thread",
                f"'{p.thread[:30]}' is none of the coarse series known here; write M10 or "
                f"3/8-16 UNC, M or UNC for the nearest one, or give {field}",
            )
        _within("thread", thread.diameter, span, upto)
        return thread.diameter, thread
    if given is not None:
        _within(field, given, span, upto)
        return given, by_diameter(given)
    found = nearest(usual, *span, series or "metric")
    return (usual, None) if found is None else (found.diameter, found)


def by_units(field: str) -> tuple[ByUnits, ...]:
    """Return that the series follows the units where neither thread nor ``field`` is given."""
    return (ByUnits("thread", mm="M", inch="UNC", instead=(field,)),)


def built(field: str, diameter: float, thread: Thread | None) -> dict[str, float | str]:
    """Return the one of both parameters that says what was built."""
    return {field: diameter} if thread is None else {"thread": thread.name}


def _within(field: str, diameter: float, span: tuple[float, float], upto: str) -> None:
    low, high = span
    text = f"the diameter outside the thread, from a wire diameter {upto}"
    limits.between(field, diameter, low, high, text, "choose one within it")
