"""A check that failed stops everything."""

from __future__ import annotations

from collections.abc import Iterable

from springgeo.errors import BuildError
from springgeo.results.verdict import Check


def require(checks: Iterable[Check]) -> None:
    """Raise BuildError naming the first check that failed."""
    for c in checks:
        if not c.ok:
            raise BuildError(
                f"check '{c.name}' failed: {c.value:.4g} {c.unit} against "
                f"{c.bound:.4g} {c.unit} ({c.what}); nothing was written"
            )
