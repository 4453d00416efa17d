"""What to change where a working point asks too much, and how that point is told.

A spring that is held at a length bears less with more coils; thicker wire or a smaller coil makes
it stiffer there, and bear more.
"""

from __future__ import annotations

from springgeo.message import Message
from springgeo.results.handbook import WorkingPoint
from springgeo.results.place import Way
from springgeo.summary.handbook import Handbook
from springgeo.summary.loaded import is_given
from springgeo.text import quantity as q
from springgeo.text.shown import Value, together, word


def cure(book: Handbook, point: WorkingPoint, name: str, way: Way) -> Message:
    """Return what to change for a kind of stress that is too high by one of the two ways."""
    # a wider bend at the side takes the pull further from the coil: along the wire it may be worse
    bend = name == "hook_torsion" and way == "handbook"
    if is_given(book, point):
        return (
            word("enlarge bend_radius, use more coils, or a shorter length")
            if bend
            else word("use more coils or less initial tension, or a shorter length")
        )
    return (
        word("enlarge bend_radius, use thicker wire, or lower the load")
        if bend
        else word("use thicker wire or a smaller coil, or lower the load")
    )


def field(book: Handbook, point: WorkingPoint) -> str:
    """Return the field that a working point is given by."""
    return "service.lengths" if is_given(book, point) else "service.loads"


def told(book: Handbook, point: WorkingPoint, load: float | None = None) -> Value:
    """Return a working point in words: what it is given by comes first.

    ``load``, N: what it bears there, if not what it does pulled straight.
    """
    force = q.force(point.load if load is None else load)
    return together(q.length(point.length), force, by=", ") if is_given(book, point) else force
