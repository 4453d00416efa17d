"""The base of every specification model: frozen, and no key passes unknown."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict
from pydantic_core import PydanticCustomError

from springgeo.trade.limits import limits

# how far a value may miss a limit and still be at it: units and diameters are multiplied out
ROUNDING = 1e-9


class SpecModel(BaseModel):
    """Frozen pydantic model that refuses unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid")


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
    text = f"{value:g} {unit}".strip()
    if not value >= low - ROUNDING * abs(low):
        limit = f"{low:g} {unit}".strip()
        raise rule(f"{what}-too-small", f"{text} is below the limit {limit}; raise it")
    if not value <= high + ROUNDING * abs(high):
        limit = f"{high:g} {unit}".strip()
        raise rule(f"{what}-too-large", f"{text} is above the limit {limit}; reduce it")
    return value


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
        raise rule(
            f"{what}-not-positive", f"{value:g} {unit} must be above zero".replace("  ", " ")
        )
    return value
