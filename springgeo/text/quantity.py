"""Quantities to be shown: a kind, a value in its inside unit, and the digits worth reading.

Every kind has one unit in each system. Inside: mm, N, N/mm, MPa, kg, N mm, degC, rad.
"""

from __future__ import annotations

import math
from functools import partial
from types import MappingProxyType
from typing import Literal, NamedTuple

from springgeo.units import FACTORS

Units = Literal["mm", "inch"]
Bound = Literal["least", "most"]
SYSTEMS: tuple[Units, Units] = ("mm", "inch")

_IN, _LBF = FACTORS["length"]["in"], FACTORS["force"]["lbf"]
_KSI = FACTORS["stress"]["ksi"]
_POUND = 0.45359237


class Unit(NamedTuple):
    """How a kind is shown: ``value * factor + offset`` and a sign."""

    sign: str
    factor: float = 1.0
    offset: float = 0.0


_DEGREES = Unit("°", 180 / math.pi)
# the sizes and stresses of the inch trade: in, lbf, lbf/in, ksi (common practice)
UNITS: MappingProxyType[str, dict[Units, Unit]] = MappingProxyType(
    {
        "length": {"mm": Unit("mm"), "inch": Unit("in", 1 / _IN)},
        "force": {"mm": Unit("N"), "inch": Unit("lbf", 1 / _LBF)},
        "rate": {"mm": Unit("N/mm"), "inch": Unit("lbf/in", _IN / _LBF)},
        "stress": {"mm": Unit("MPa"), "inch": Unit("ksi", 1 / _KSI)},
        "stress per load": {"mm": Unit("MPa/N"), "inch": Unit("ksi/lbf", _LBF / _KSI)},
        "mass": {"mm": Unit("g", 1e3), "inch": Unit("oz", 16 / _POUND)},
        "density": {"mm": Unit("g/cm3"), "inch": Unit("lb/in3", 1e-3 * (_IN / 10) ** 3 / _POUND)},
        "volume": {"mm": Unit("mm³"), "inch": Unit("in³", _IN**-3)},
        "bulk": {"mm": Unit("cm3", 1e-3), "inch": Unit("in3", _IN**-3)},
        "energy": {"mm": Unit("mJ"), "inch": Unit("in lbf", 1 / (_IN * _LBF))},
        "torque": {"mm": Unit("N mm"), "inch": Unit("lbf in", 1 / (_IN * _LBF))},
        "temperature": {"mm": Unit("°C"), "inch": Unit("°F", 1.8, 32.0)},
        "temperature difference": {"mm": Unit("K"), "inch": Unit("°F", 1.8)},
        "angle": {"mm": _DEGREES, "inch": _DEGREES},
        "degrees": {"mm": Unit("°"), "inch": Unit("°")},
        "frequency": {"mm": Unit("Hz"), "inch": Unit("Hz")},
        "percent": {"mm": Unit("%"), "inch": Unit("%")},
        "number": {"mm": Unit(""), "inch": Unit("")},
    }
)
# decimals more where the unit of the inch system is the larger one
FINER = {"density": 2, "length": 1, "stress": 1, "force": 1, "mass": 1, "energy": 1, "torque": 1}


class Quantity(NamedTuple):
    """A value to be shown.

    Attributes
    ----------
    kind : str
        A key of ``UNITS``.
    value : float
        In the inside unit.
    digits : int or None
        Significant ones; the usual ones of the kind where this and ``places`` are left out.
    places : int or None
        Decimals in mm and N; inch units get one more where they are larger (``FINER``).
    signed : bool
        A plus is written out.
    unit : bool
        The unit is written.
    within : float or None
        By how much it may be off, in the inside unit: no digits beyond those that this justifies
        in the unit shown (``figures.to_tolerance``).
    bound : str or None
        ``least`` or ``most``: shown to ``digits``, never less or more than it is, so that who goes
        as far as is told is within it (``figures.outward``).
    """

    kind: str
    value: float
    digits: int | None = None
    places: int | None = None
    signed: bool = False
    unit: bool = True
    within: float | None = None
    bound: Bound | None = None


def convert(kind: str, value: float, units: Units) -> float:
    """Return a value of the inside unit as a number of the unit shown.

    Examples
    --------
    >>> convert("temperature", 100.0, "inch")
    212.0
    """
    unit = UNITS[kind][units]
    return value * unit.factor + unit.offset


# quantities of one kind, by their value in the inside unit and the other fields of `Quantity`
length = partial(Quantity, "length")
force = partial(Quantity, "force")
rate = partial(Quantity, "rate")
stress = partial(Quantity, "stress")
temperature = partial(Quantity, "temperature")
# rad, and degrees
angle, degrees = partial(Quantity, "angle"), partial(Quantity, "degrees")
frequency = partial(Quantity, "frequency")
# 5 for 5 %
percent = partial(Quantity, "percent")
# without a unit; a language may write it with a comma
number = partial(Quantity, "number")


def _named(kind: str, digits: int, **values: float) -> dict[str, Quantity]:
    """Return quantities of one kind, each with as many digits: several that one message names."""
    return {name: Quantity(kind, x, digits) for name, x in values.items()}


# ``said("{gap} of {wire}", **lengths(3, gap=gap, wire=d))``
lengths = partial(_named, "length")
forces = partial(_named, "force")
stresses = partial(_named, "stress")


def least(value: float, digits: int = 4, *, unit: bool = True) -> Quantity:
    """Return a length, mm, that something must have at least: never told as less."""
    return Quantity("length", value, digits, unit=unit, bound="least")


def most(value: float, digits: int = 4, *, unit: bool = True) -> Quantity:
    """Return a length, mm, that something may have at most: never told as more."""
    return Quantity("length", value, digits, unit=unit, bound="most")


def factor(x: float) -> Quantity:
    """Return a margin or a factor of safety: two places, more where 1 would be told of less.

    Examples
    --------
    >>> factor(1.237).places, factor(0.914).places, factor(0.998).places
    (2, 2, 3)
    """
    short = x < 1 <= round(x, 2)
    return number(x, places=min(math.ceil(-math.log10(1 - x)), 6) if short else 2)


def signed_percent(x: float, places: int = 1) -> Quantity:
    """Return a percentage with its sign."""
    return Quantity("percent", x, None, places, signed=True)
