"""What a specification leaves to the trade of its units is said in it, once it is read.

Units are how answers are shown; what an end style declares to follow from them does so, too, where
nothing is said of it. Said in the specification it is the same for whoever reads that again in
others.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.specification import EndChoice, Spec
from springgeo.specification.end_names import SIDES
from springgeo.text.quantity import SYSTEMS, Units


def as_decided(spec: Spec) -> Spec:
    """Return a specification in inches with what its units decide; one in mm as it is."""
    if spec.units == SYSTEMS[0]:
        return spec
    named: dict[str, EndChoice] = {}
    for side in SIDES:
        own: EndChoice = getattr(spec.ends, side)
        if left := _decided(own.style, own.parameters, spec.units):
            named[side] = EndChoice.model_validate({"style": own.style, **own.parameters, **left})
    if not named:
        return spec
    return spec.model_copy(update={"ends": spec.ends.model_copy(update=named)})


def shown_in(data: Mapping[str, Any], units: Units) -> dict[str, Any]:
    """Return a specification, as a file holds it, to be shown in ``units``: the same spring.

    What its own units decided is said in it where others are asked for. Its ends are mappings.
    """
    before = data.get("units", SYSTEMS[0])
    if units == before:
        return dict(data)
    ends = dict(data["ends"])
    for side in SIDES:
        given = {k: v for k, v in ends[side].items() if k != "style"}
        ends[side] = ends[side] | _decided(ends[side]["style"], given, before)
    return {"units": units, **{k: v for k, v in data.items() if k != "units"}, "ends": ends}


def _decided(style: str, said: Mapping[str, object], units: Units) -> dict[str, str | float]:
    try:
        return registry.get(style).decided(said, units)
    except SpecError:  # it is told where the end is made
        return {}
