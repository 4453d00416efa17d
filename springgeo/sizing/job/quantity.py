"""Field types that only a job needs: rate, and force times length (energy, torque)."""

from __future__ import annotations

import math
import re
from typing import Annotated

from pydantic import BeforeValidator, WithJsonSchema

from springgeo import units
from springgeo.specification.quantity import Bare

_LBF, _INCH = units.FACTORS["force"]["lbf"], units.FACTORS["length"]["in"]
# N mm; the joule is the newton metre (ISO 80000-4)
PRODUCTS = {
    "N mm": 1.0,
    "mJ": 1.0,
    "N m": 1000.0,
    "J": 1000.0,
    "lbf in": _LBF * _INCH,
    "lbf ft": 12 * _LBF * _INCH,
}
_SPACES = re.compile(r"[\s*·]+")


def parse_product(value: object) -> float:
    """Return force times length in N mm: a bare number, or a text such as ``"1.2 N m"``.

    Raises
    ------
    ValueError
        Not a finite number, or a unit not in `PRODUCTS`.
    """
    if not isinstance(value, str):
        return units.parse(value, "number")
    size, words = units.split(value[:60], "a number and a unit such as '1.2 N m'")
    unit = _SPACES.sub(" ", words).replace("Nmm", "N mm").replace("Nm", "N m")
    if unit and unit not in PRODUCTS:
        raise ValueError(f"unit '{unit}' is not known here; use one of: {', '.join(PRODUCTS)}")
    result = size * PRODUCTS.get(unit, 1.0)
    if not math.isfinite(result):
        raise ValueError(f"'{value[:40]}' is not a finite number")
    return result


def _schema(words: str) -> WithJsonSchema:
    return WithJsonSchema({"anyOf": [{"type": "number"}, {"type": "string"}], "description": words})


def _rate(value: object) -> float:
    return units.parse(value, "rate")


Rate = Annotated[
    float, BeforeValidator(_rate), _schema("rate; a bare number is in N/mm"), Bare("N/mm")
]
Energy = Annotated[
    float,
    BeforeValidator(parse_product),
    _schema("energy; a bare number is in N mm (mJ)"),
    Bare("N mm"),
]
Torque = Annotated[
    float,
    BeforeValidator(parse_product),
    _schema("torque; a bare number is in N mm"),
    Bare("N mm"),
]
