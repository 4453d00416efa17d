"""Field types for quantities: a unit may be written, the inside unit is stored."""

from __future__ import annotations

from typing import Annotated, Any, NamedTuple

from pydantic import BeforeValidator, PlainSerializer, WithJsonSchema

from springgeo import units
from springgeo.materials import gauges


class Bare(NamedTuple):
    """Marks a field whose number means another thing in another unit; a bare one is in this."""

    unit: str


# angles and frequencies are in deg and Hz for everyone
_SAME = {"angle", "frequency", "number"}


def _quantity(kind: str) -> list[object]:
    bare = units.BARE[kind] or "no unit"
    schema = {
        "anyOf": [{"type": "number"}, {"type": "string"}],
        "description": f"{kind}; a bare number is in {bare}; units: "
        + ", ".join(u for u in units.FACTORS[kind] if u),
    }
    marks = [] if kind in _SAME else [Bare(bare)]
    return [BeforeValidator(lambda v: units.parse(v, kind)), WithJsonSchema(schema), *marks]


def _wire_size(value: Any) -> float:
    if gauges.is_gauge(value):
        return gauges.diameter(value)
    return units.parse(value, "length")


Length = Annotated[float, *_quantity("length")]
# a length, or the number of a gauge that is named: 18 mwg, 18 swg
WireSize = Annotated[float, BeforeValidator(_wire_size), *_quantity("length")[1:]]
Force = Annotated[float, *_quantity("force")]
Stress = Annotated[float, *_quantity("stress")]
Number = Annotated[float, *_quantity("number")]
Frequency = Annotated[float, *_quantity("frequency")]
Temperature = Annotated[float, *_quantity("temperature")]
# stored in rad, but a bare number on paper is degrees: written back with its unit
Angle = Annotated[
    float,
    *_quantity("angle"),
    PlainSerializer(lambda v: f"{v!r} rad", return_type=str, when_used="json"),
]
