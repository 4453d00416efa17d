"""Units of embedded values: how STEP names them, and back from a file."""

from __future__ import annotations

from OCP.StepBasic import (
    StepBasic_ConversionBasedUnit,
    StepBasic_NamedUnit,
    StepBasic_SiPrefix,
    StepBasic_SiUnit,
    StepBasic_SiUnitName,
    StepBasic_Unit,
)

# symbol: kind of unit, SI prefix, SI name, name of the measure. The kernel refuses the names for
# force and pressure: those are plain numbers with a unit.
NAMED = {
    "mm": ("LENGTH_UNIT", "MILLI", "METRE", "LENGTH_MEASURE"),
    "m": ("LENGTH_UNIT", "", "METRE", "LENGTH_MEASURE"),
    "cm": ("LENGTH_UNIT", "CENTI", "METRE", "LENGTH_MEASURE"),
    "kg": ("MASS_UNIT", "KILO", "GRAM", "MASS_MEASURE"),
    "g": ("MASS_UNIT", "", "GRAM", "MASS_MEASURE"),
    "s": ("TIME_UNIT", "", "SECOND", "TIME_MEASURE"),
    "rad": ("PLANE_ANGLE_UNIT", "", "RADIAN", "PLANE_ANGLE_MEASURE"),
    "degC": (
        "THERMODYNAMIC_TEMPERATURE_UNIT",
        "",
        "DEGREE_CELSIUS",
        "THERMODYNAMIC_TEMPERATURE_MEASURE",
    ),
    "N": ("", "", "NEWTON", "NUMERIC_MEASURE"),
    "MPa": ("", "MEGA", "PASCAL", "NUMERIC_MEASURE"),
    "J": ("", "", "JOULE", "NUMERIC_MEASURE"),
    "Hz": ("", "", "HERTZ", "NUMERIC_MEASURE"),
}
# symbol: named units with their exponents
DERIVED = {
    "N/mm": (("N", 1), ("mm", -1)),
    "N*mm": (("N", 1), ("mm", 1)),
    "mm^2": (("mm", 2),),
    "mm^3": (("mm", 3),),
    "1/mm": (("mm", -1),),
    "g/cm^3": (("g", 1), ("cm", -3)),
    "kg/m^3": (("kg", 1), ("m", -3)),
}
DEGREE = "deg"
UNITS = ("", DEGREE, *NAMED, *DERIVED)


def measure_name(symbol: str) -> str:
    """Return the STEP type of a number in that unit."""
    if symbol == DEGREE:
        return "PLANE_ANGLE_MEASURE"
    return NAMED[symbol][3] if symbol in NAMED else "NUMERIC_MEASURE"


def unit_symbol(unit: StepBasic_Unit) -> str:
    """Return the symbol of a unit read from a file; ``?`` for one that is not in `UNITS`."""
    derived = unit.DerivedUnit()
    if derived is None:
        return _named_symbol(unit.NamedUnit())
    elements = [derived.ElementsValue(i + 1) for i in range(derived.NbElements())]
    found = tuple((_named_symbol(e.Unit()), round(e.Exponent())) for e in elements)
    return next((symbol for symbol, factors in DERIVED.items() if factors == found), "?")


def _named_symbol(unit: StepBasic_NamedUnit) -> str:
    if isinstance(unit, StepBasic_ConversionBasedUnit):
        return DEGREE if unit.Name().ToCString().upper() == "DEGREE" else "?"
    if not isinstance(unit, StepBasic_SiUnit):
        return "?"
    for symbol, (_, prefix, name, _) in NAMED.items():
        same = unit.Prefix() == _prefix(prefix) if unit.HasPrefix() and prefix else True
        if unit.Name() == _si_name(name) and unit.HasPrefix() == bool(prefix) and same:
            return symbol
    return "?"


def _prefix(name: str) -> StepBasic_SiPrefix:
    return getattr(StepBasic_SiPrefix, f"StepBasic_sp{name.capitalize()}")


def _si_name(name: str) -> StepBasic_SiUnitName:
    camel = name.title().replace("_", "")
    return getattr(StepBasic_SiUnitName, f"StepBasic_sun{camel}")
