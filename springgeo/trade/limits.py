"""The limits of the specification, read once from their data file."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from springgeo.text.safe_yaml import parse_own


@cache
def limits() -> dict[str, tuple[float, float]]:
    """Return ``{name: (low, high)}``; units and sources are in ``limits.yaml``."""
    text = files("springgeo.trade").joinpath("limits.yaml").read_text(encoding="utf-8")
    table = parse_own(text)
    return {name: (float(row["low"]), float(row["high"])) for name, row in table.items()}
