"""Units of embedded values as entities of a STEP file."""

from __future__ import annotations

import math

from springgeo.files.step.part21 import Entities, listed, real
from springgeo.files.step.units import DEGREE, DERIVED, NAMED


def add_unit(entities: Entities, symbol: str) -> str:
    """Add the entities of a unit other than the empty one; return the reference to it."""
    if symbol == DEGREE:
        return _degree(entities)
    if symbol not in DERIVED:
        return entities.add(_named(symbol))
    factors = [
        entities.add(f"DERIVED_UNIT_ELEMENT({entities.add(_named(name))},{real(power)})")
        for name, power in DERIVED[symbol]
    ]
    return entities.add(f"DERIVED_UNIT({listed(factors)})")


def _named(symbol: str) -> str:
    kind, prefix, name, _ = NAMED[symbol]
    si = f"{f'.{prefix}.' if prefix else '$'},.{name}."
    if not kind:
        return f"SI_UNIT(*,{si})"
    # the parts of one entity stand in alphabetical order
    return f"( {' '.join(sorted([f'{kind}()', 'NAMED_UNIT(*)', f'SI_UNIT({si})']))} )"


def _degree(entities: Entities) -> str:
    radian = entities.add(_named("rad"))
    value = f"PLANE_ANGLE_MEASURE({real(math.pi / 180)})"
    factor = entities.add(f"PLANE_ANGLE_MEASURE_WITH_UNIT({value},{radian})")
    none = entities.add(f"DIMENSIONAL_EXPONENTS({','.join(['0.'] * 7)})")
    kinds = f"CONVERSION_BASED_UNIT('DEGREE',{factor}) NAMED_UNIT({none}) PLANE_ANGLE_UNIT()"
    return entities.add(f"( {kinds} )")
