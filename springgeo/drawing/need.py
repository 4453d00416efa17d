"""The optional libraries of the drawing room."""

from __future__ import annotations

from typing import Any

from springgeo import optional


def need(name: str) -> Any:
    """Return a module by its dotted name; raises MissingLibraryError that says how to get it."""
    return optional.need(name, "drawing", "drawing")
