"""The limits of the specification, read once from their data file."""

from __future__ import annotations

from functools import cache

from springgeo.trade.table import table


@cache
def limits() -> dict[str, tuple[float, float]]:
    """Return ``{name: (low, high)}``; units and sources are in ``limits.yaml``."""
    rows = table("limits").items()
    return {name: (float(row["low"]), float(row["high"])) for name, row in rows}
