"""Libraries that only some of the house needs, with the command that installs them."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from springgeo.errors import SpringgeoError


class MissingLibraryError(SpringgeoError, ImportError):
    """A library that is needed only here is not installed; the message says how to get it."""


def need(module: str, purpose: str, extra: str) -> Any:
    """Return a module by its dotted name.

    Parameters
    ----------
    module : str
    purpose : str
        Who needs it, as the subject of the message: "drawing", "--backend dask".
    extra : str
        The optional dependencies that hold it.

    Raises
    ------
    MissingLibraryError
        It is not installed.
    """
    try:
        return import_module(module)
    except ImportError as exc:
        raise MissingLibraryError(
            f"{purpose} needs {module.partition('.')[0]}, which is not installed here; install it "
            f"with pip install 'springgeo[{extra}]', in a checkout pip install '.[{extra}]'"
        ) from exc
