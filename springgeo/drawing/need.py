"""The optional libraries of the drawing room, with the command that installs them."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from springgeo.errors import SpringgeoError


class MissingLibraryError(SpringgeoError, ImportError):
    """A library that only the drawing needs is not installed."""


def need(name: str) -> Any:
    """Return a module, or raise MissingLibraryError that says how to get it.

    Parameters
    ----------
    name : str
        Dotted name of the module.
    """
    try:
        return import_module(name)
    except ImportError as exc:
        raise MissingLibraryError(
            f"drawing needs {name.partition('.')[0]}; install it with "
            "pip install 'springgeo[drawing]'"
        ) from exc
