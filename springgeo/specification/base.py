"""The base of every specification model: frozen, and no key passes unknown."""

from __future__ import annotations

from pydantic import AfterValidator, BaseModel, ConfigDict
from pydantic_core import PydanticCustomError

from springgeo.text.quantity import Quantity
from springgeo.text.shown import said
from springgeo.trade.limits import limits

# how far a value may miss a limit and still be at it: units and diameters are multiplied out
ROUNDING = 1e-9


class SpecModel(BaseModel):
    """Frozen pydantic model that refuses unknown keys."""

    # built when first used: a command uses few of them
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


def rule(code: str, message: str, field: str = "") -> PydanticCustomError:
    """Return a validation error that keeps our own code and words.

    ``field`` names the culprit where the rule concerns more than one.
    """
    return PydanticCustomError(
        "springgeo", "{code}", {"code": code, "message": message, "field": field}
    )


def within(name: str, value: float, unit: str, what: str) -> float:
    """Return ``value`` if inside the limits of that name, else raise with what to change.

    A value that misses a limit by rounding alone is at the limit.
    """
    low, high = limits()[name]
    if not value >= low - ROUNDING * abs(low):
        values = {"value": _united(value, unit), "limit": _united(low, unit)}
        raise rule(
            f"{what}-too-small", said("{value} is below the limit {limit}; raise it", **values)
        )
    if not value <= high + ROUNDING * abs(high):
        values = {"value": _united(value, unit), "limit": _united(high, unit)}
        raise rule(
            f"{what}-too-large", said("{value} is above the limit {limit}; reduce it", **values)
        )
    return value


def limited(name: str, unit: str, what: str) -> AfterValidator:
    """Return what keeps a field within the limits of a name; see `within`."""
    return AfterValidator(lambda value: within(name, value, unit, what))


_KINDS = {"mm": "length", "N": "force", "MPa": "stress", "degC": "temperature", "Hz": "frequency"}


def _united(value: float, unit: str) -> Quantity | str:
    """Return a value for a message: a quantity where its unit is one that is converted."""
    if unit in _KINDS:
        return Quantity(_KINDS[unit], value, 6)
    return f"{value:g} {unit}".strip()


def one_of(given: dict[str, float | None], what: str) -> str:
    """Return the name of the only alternative given; raise naming them if none or several are."""
    names = [k for k, v in given.items() if v is not None]
    if len(names) == 1:
        return names[0]
    if not names:
        raise rule("missing-alternative", f"{what} is missing; give one of: {', '.join(given)}")
    raise rule("two-forms", f"{' and '.join(names)} both say what the {what} is; keep one of them")


def positive(value: float, unit: str, what: str) -> float:
    """Return ``value`` if above zero, else raise."""
    if not value > 0:
        text = said("{value} must be above zero", value=_united(value, unit))
        raise rule(f"{what}-not-positive", text)
    return value
