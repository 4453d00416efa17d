"""Limits that several end styles share, each answered with what to change."""

from __future__ import annotations

from springgeo.errors import SpecError
from springgeo.findings import error


def mm(value: float) -> str:
    """Return a length for a message."""
    return f"{value:.4g} mm"


def refuse(code: str, field: str, message: str) -> SpecError:
    """Return the exception for a parameter that cannot be made."""
    return SpecError(error(code, field, message))


def between(field: str, value: float, low: float, high: float, what: str, advice: str) -> float:
    """Return ``value`` if it lies in ``low..high`` mm (to rounding), else raise SpecError.

    ``what`` describes the range from its low end to its high end.
    """
    slack = 1e-9 * max(abs(low), abs(high))
    allowed = f"(allowed: {mm(low)} to {mm(high)}, {what})"
    if value < low - slack:
        raise refuse(
            f"{field.replace('_', '-')}-too-small",
            field,
            f"{mm(value)} is below {mm(low)} {allowed}; {advice}",
        )
    if value > high + slack:
        raise refuse(
            f"{field.replace('_', '-')}-too-large",
            field,
            f"{mm(value)} is above {mm(high)} {allowed}; {advice}",
        )
    return min(max(value, low), high)


def hook_length(value: float, coil_radius: float) -> float:
    """Return a hook length between zero and ten coil diameters, else raise SpecError."""
    return between(
        "hook_length",
        value,
        0.0,
        20 * coil_radius,
        "from nothing to ten coil diameters",
        "choose a length within it",
    )


def bend_radius(
    value: float | None, default: float, diameter: float, high: float, what: str
) -> float:
    """Return r2, at least one wire diameter (common practice, DIN 2097 maker's sheets)."""
    if high < diameter * (1 - 1e-9):
        raise refuse(
            "bend-does-not-fit",
            "bend_radius",
            f"a bend of at least one wire diameter ({mm(diameter)}) does not fit: "
            f"at most {mm(high)}, {what}, is possible; raise the index or choose another style",
        )
    chosen = min(max(default, diameter), high) if value is None else value
    if chosen < diameter * (1 - 1e-9):
        raise refuse(
            "bend-radius-too-small",
            "bend_radius",
            f"{mm(chosen)} is below the wire diameter {mm(diameter)}; "
            "bend no tighter than one wire diameter",
        )
    return between(
        "bend_radius",
        chosen,
        diameter,
        high,
        f"from one wire diameter to {what}",
        "reduce it, or raise the index",
    )
