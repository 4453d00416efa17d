"""What an overload leaves of the spring, as a note of the sheet."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.results.summary import Summary
from springgeo.text.quantity import Quantity, force
from springgeo.text.shown import said


def overload_note(s: Summary) -> Iterator[str]:
    """Yield the note where the specification asks for one."""
    o = s.overload
    if o is None or o.load is None or o.greatest.set is None:
        return
    # wire of the greatest elastic limit sets least
    few, load = o.greatest.set, force(o.load)
    if o.least.set is None:
        yield said(
            "Pulled once to {load}, an estimate: the free length grows by {least} or more; wire of "
            "a low elastic limit yields through.",
            load=load,
            least=_length(few.lengthened),
        )
        return
    yield said(
        "Pulled once to {load}, an estimate: the free length grows by {least} to {most}; {low} to "
        "{high} of initial tension are left.",
        load=load,
        least=_length(few.lengthened),
        most=_length(o.least.set.lengthened),
        low=Quantity("force", o.least.set.initial_tension, 3),
        high=Quantity("force", few.initial_tension, 3),
    )


def _length(x: float) -> Quantity:
    return Quantity("length", x, 2)
