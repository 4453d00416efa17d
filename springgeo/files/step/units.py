"""Units of embedded values, as STEP entities and back."""

from __future__ import annotations

import math

from OCP.StepBasic import (
    StepBasic_ConversionBasedUnit,
    StepBasic_ConversionBasedUnitAndPlaneAngleUnit,
    StepBasic_DerivedUnit,
    StepBasic_DerivedUnitElement,
    StepBasic_DimensionalExponents,
    StepBasic_HArray1OfDerivedUnitElement,
    StepBasic_MeasureValueMember,
    StepBasic_MeasureWithUnit,
    StepBasic_NamedUnit,
    StepBasic_SiPrefix,
    StepBasic_SiUnit,
    StepBasic_SiUnitAndLengthUnit,
    StepBasic_SiUnitAndMassUnit,
    StepBasic_SiUnitAndPlaneAngleUnit,
    StepBasic_SiUnitAndThermodynamicTemperatureUnit,
    StepBasic_SiUnitAndTimeUnit,
    StepBasic_SiUnitName,
    StepBasic_Unit,
)
from OCP.TCollection import TCollection_HAsciiString

# symbol: entity, SI prefix, SI name, name of the measure. The kernel refuses the names for
# force and pressure: those are plain numbers with a unit.
_NAMED = {
    "mm": (StepBasic_SiUnitAndLengthUnit, "Milli", "Metre", "LENGTH_MEASURE"),
    "m": (StepBasic_SiUnitAndLengthUnit, "", "Metre", "LENGTH_MEASURE"),
    "cm": (StepBasic_SiUnitAndLengthUnit, "Centi", "Metre", "LENGTH_MEASURE"),
    "kg": (StepBasic_SiUnitAndMassUnit, "Kilo", "Gram", "MASS_MEASURE"),
    "g": (StepBasic_SiUnitAndMassUnit, "", "Gram", "MASS_MEASURE"),
    "s": (StepBasic_SiUnitAndTimeUnit, "", "Second", "TIME_MEASURE"),
    "rad": (StepBasic_SiUnitAndPlaneAngleUnit, "", "Radian", "PLANE_ANGLE_MEASURE"),
    "degC": (
        StepBasic_SiUnitAndThermodynamicTemperatureUnit,
        "",
        "DegreeCelsius",
        "THERMODYNAMIC_TEMPERATURE_MEASURE",
    ),
    "N": (StepBasic_SiUnit, "", "Newton", "NUMERIC_MEASURE"),
    "MPa": (StepBasic_SiUnit, "Mega", "Pascal", "NUMERIC_MEASURE"),
    "J": (StepBasic_SiUnit, "", "Joule", "NUMERIC_MEASURE"),
    "Hz": (StepBasic_SiUnit, "", "Hertz", "NUMERIC_MEASURE"),
}
# symbol: named units with their exponents
_DERIVED = {
    "N/mm": (("N", 1), ("mm", -1)),
    "N*mm": (("N", 1), ("mm", 1)),
    "mm^2": (("mm", 2),),
    "mm^3": (("mm", 3),),
    "1/mm": (("mm", -1),),
    "g/cm^3": (("g", 1), ("cm", -3)),
    "kg/m^3": (("kg", 1), ("m", -3)),
}
_DEGREE = "deg"
UNITS = ("", _DEGREE, *_NAMED, *_DERIVED)


def measure_name(symbol: str) -> str:
    """Return the STEP type of a number in that unit."""
    if symbol == _DEGREE:
        return "PLANE_ANGLE_MEASURE"
    return _NAMED[symbol][3] if symbol in _NAMED else "NUMERIC_MEASURE"


def measure_value(number: float, name: str) -> StepBasic_MeasureValueMember:
    """Return a number with its STEP type."""
    value = StepBasic_MeasureValueMember()
    value.SetName(name)
    value.SetReal(number)
    return value


def unit_entity(symbol: str) -> StepBasic_Unit:
    """Return the entities of a unit of `UNITS` other than the empty one."""
    unit = StepBasic_Unit()
    if symbol in _DERIVED:
        factors = _DERIVED[symbol]
        elements = StepBasic_HArray1OfDerivedUnitElement(1, len(factors))
        for i, (name, power) in enumerate(factors, 1):
            element = StepBasic_DerivedUnitElement()
            element.Init(_named(name), float(power))
            elements.SetValue(i, element)
        derived = StepBasic_DerivedUnit()
        derived.Init(elements)
        unit.SetValue(derived)
    else:
        unit.SetValue(_degree() if symbol == _DEGREE else _named(symbol))
    return unit


def unit_symbol(unit: StepBasic_Unit) -> str:
    """Return the symbol of a unit read from a file; ``?`` for one that is not in `UNITS`."""
    derived = unit.DerivedUnit()
    if derived is None:
        return _named_symbol(unit.NamedUnit())
    elements = [derived.ElementsValue(i + 1) for i in range(derived.NbElements())]
    found = tuple((_named_symbol(e.Unit()), round(e.Exponent())) for e in elements)
    return next((symbol for symbol, factors in _DERIVED.items() if factors == found), "?")


def _named(symbol: str) -> StepBasic_NamedUnit:
    kind, prefix, name, _ = _NAMED[symbol]
    unit = kind()
    unit.Init(bool(prefix), _prefix(prefix or "Milli"), _si_name(name))
    return unit


def _degree() -> StepBasic_NamedUnit:
    factor, unit = StepBasic_MeasureWithUnit(), StepBasic_Unit()
    unit.SetValue(_named("rad"))
    factor.Init(measure_value(math.pi / 180, "PLANE_ANGLE_MEASURE"), unit)
    none = StepBasic_DimensionalExponents()
    none.Init(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    degree = StepBasic_ConversionBasedUnitAndPlaneAngleUnit()
    degree.Init(none, TCollection_HAsciiString("DEGREE"), factor)
    return degree


def _named_symbol(unit: StepBasic_NamedUnit) -> str:
    if isinstance(unit, StepBasic_ConversionBasedUnit):
        return _DEGREE if unit.Name().ToCString().upper() == "DEGREE" else "?"
    if not isinstance(unit, StepBasic_SiUnit):
        return "?"
    for symbol, (_, prefix, name, _) in _NAMED.items():
        same = unit.Prefix() == _prefix(prefix) if unit.HasPrefix() and prefix else True
        if unit.Name() == _si_name(name) and unit.HasPrefix() == bool(prefix) and same:
            return symbol
    return "?"


def _prefix(name: str) -> StepBasic_SiPrefix:
    return getattr(StepBasic_SiPrefix, f"StepBasic_sp{name}")


def _si_name(name: str) -> StepBasic_SiUnitName:
    return getattr(StepBasic_SiUnitName, f"StepBasic_sun{name}")
