"""Limits that several end styles share, each answered with what to change."""

from __future__ import annotations

from springgeo.errors import SpecError, refused
from springgeo.text.quantity import Quantity, least, length, most
from springgeo.text.shown import Value, said, word


def mm(value: float) -> Quantity:
    """Return a length for a message."""
    return length(value, 4)


def between(field: str, value: float, low: float, high: float, what: str, advice: str) -> float:
    """Return ``value`` if it lies in ``low..high`` mm (to rounding), else raise SpecError.

    ``what`` describes the range from its low end to its high end.
    """
    slack = 1e-9 * max(abs(low), abs(high))
    # rounded inward, so that what is told is taken: a narrow range needs more digits
    digits = 4 if high - low > 2e-3 * abs(high) else 9
    values: dict[str, Value] = {
        "value": mm(value),
        "low": least(low, digits),
        "high": most(high, digits),
        "what": word(what),
        "advice": word(advice),
    }
    if value < low - slack:
        raise refused(
            f"{field.replace('_', '-')}-too-small",
            field,
            said("{value} is below {low} (allowed: {low} to {high}, {what}); {advice}", **values),
        )
    if value > high + slack:
        raise refused(
            f"{field.replace('_', '-')}-too-large",
            field,
            said("{value} is above {high} (allowed: {low} to {high}, {what}); {advice}", **values),
        )
    return min(max(value, low), high)


def coils(
    value: float | None, usual: float, least: float, most: float, kind: str, what: str
) -> float:
    """Return how many coils of a kind an end has, or raise SpecError; ``what`` describes them."""
    count = usual if value is None else float(value)
    if not least <= count <= most:
        side, limit = ("few", least) if count < least else ("many", most)
        raise refused(
            f"too-{side}-{kind}-coils",
            "coils",
            f"{count:.4g} (allowed: {least:g} to {most:g} coils {what}, and {limit:g} is the "
            "nearest); choose a number within it",
        )
    return count


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


def hook_too_short(value: float, limit: float) -> SpecError:
    """Return the refusal of a hook shorter than bend and loop make it at least, mm."""
    return refused(
        "hook-too-short",
        "hook_length",
        said(
            "{value} is below {limit}, the least for this bend and loop; lengthen the hook, or "
            "reduce bend_radius",
            value=mm(value),
            limit=least(limit),
        ),
    )


def bend_radius(
    value: float | None, default: float, wire_diameter: float, high: float, what: str
) -> float:
    """Return r2, at least one wire diameter (common practice, DIN 2097 maker's sheets)."""
    if high < wire_diameter * (1 - 1e-9):
        raise refused(
            "bend-does-not-fit",
            "bend_radius",
            said(
                "a bend of at least one wire diameter ({wire}) does not fit: at most {most}, "
                "{what}, is possible; raise the index or choose another style",
                wire=mm(wire_diameter),
                most=most(high),
                what=what,
            ),
        )
    chosen = min(max(default, wire_diameter), high) if value is None else value
    if chosen < wire_diameter * (1 - 1e-9):
        raise refused(
            "bend-radius-too-small",
            "bend_radius",
            said(
                "{radius} is below the wire diameter {wire}; bend no tighter than one wire "
                "diameter",
                radius=mm(chosen),
                wire=least(wire_diameter),
            ),
        )
    return between(
        "bend_radius",
        chosen,
        wire_diameter,
        high,
        f"from one wire diameter to {what}",
        "reduce it, or raise the index",
    )
