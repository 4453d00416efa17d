"""Libraries that only some families need, with the command that installs them."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from springgeo.errors import SpringgeoError


class MissingLibraryError(SpringgeoError, ImportError):
    """A library that this family needs is not installed."""


def need(module: str, purpose: str, extra: str) -> Any:
    """Return a module by its dotted name, or raise MissingLibraryError that says how to get it."""
    try:
        return import_module(module)
    except ImportError as exc:
        raise MissingLibraryError(
            f"{purpose} needs {module.partition('.')[0]}, which is not installed here; install it "
            f"with: pip install 'springgeo[{extra}]'"
        ) from exc
