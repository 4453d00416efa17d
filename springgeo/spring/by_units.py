"""What a specification leaves to the trade of its units is said in it, once it is read.

Units are how answers are shown; the series of a thread follows from them, too, where none is
named. Written into the specification it is the same for whoever reads that again in mm.
"""

from __future__ import annotations

from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.specification import EndChoice, Spec
from springgeo.specification.end_names import SIDES

_UNIFIED = "UNC"
# what says how thick a thread is, beside its name
_DIAMETERS = {"stud_diameter", "shank_diameter"}


def with_threads(spec: Spec) -> Spec:
    """Return a specification in inches with unified threads where an end names none."""
    if spec.units != "inch":
        return spec
    open_ends = [side for side in SIDES if _is_open(getattr(spec.ends, side))]
    if not open_ends:
        return spec
    named: dict[str, EndChoice] = {side: _named(getattr(spec.ends, side)) for side in open_ends}
    return spec.model_copy(update={"ends": spec.ends.model_copy(update=named)})


def _is_open(choice: EndChoice) -> bool:
    """Return whether an end has a thread of which nothing is said."""
    try:
        names = registry.get(choice.style).parameters.model_fields
    except SpecError:  # it is told where the end is made
        return False
    said = {name for name, value in choice.parameters.items() if value is not None}
    return "thread" in names and not said & {"thread", *_DIAMETERS}


def _named(choice: EndChoice) -> EndChoice:
    return EndChoice.model_validate(
        {"style": choice.style, **choice.parameters, "thread": _UNIFIED}
    )
