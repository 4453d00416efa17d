"""What every number of the summary is: its title, its unit, and its method where no formula tells.

A class or field that is missing here fails a test, not a user: such a number is then shown bare.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import NamedTuple

from springgeo.text.safe_yaml import parse_own

# units of the steps, and the kinds they are shown as
KINDS = {
    "": "number",
    "mm": "length",
    "N": "force",
    "N/mm": "rate",
    "MPa": "stress",
    "MPa/N": "stress per load",
    "kg": "mass",
    "N mm": "torque",
    "Hz": "frequency",
    "rad": "angle",
    "°C": "temperature",
}
UNITS = {kind: unit for unit, kind in KINDS.items()} | {"energy": "N mm", "degrees": "deg"}
UNITS |= {"density": "g/cm3", "volume": "mm3", "percent": "%", "temperature": "degC"}


class Quantity(NamedTuple):
    """A number of the summary: kind of its unit, title, method (empty where a formula tells)."""

    kind: str
    title: str
    method: str = ""


@cache
def quantities() -> dict[str, dict[str, Quantity]]:
    """Return the table by class and field of ``springgeo.results``."""
    text = files("springgeo.explanation").joinpath("quantities.yaml").read_text(encoding="utf-8")
    data = parse_own(text)
    methods = data.pop("methods")

    def row(kind: str, title: str, method: str = "") -> Quantity:
        return Quantity(kind, title, methods[method] if method else "")

    return {
        name: {field: row(*values) for field, values in (fields or {}).items()}
        for name, fields in data.items()
    }


def quantity(owner: str, field: str) -> Quantity:
    """Return what a field of a class is."""
    found = quantities().get(owner, {}).get(field)
    return found or Quantity("number", field.replace("_", " "))
