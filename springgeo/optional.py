"""Libraries that only some uses need: loaded on use, or named with how to get them."""

from __future__ import annotations

from importlib import import_module
from types import ModuleType

from springgeo.errors import SpringgeoError


class MissingLibraryError(SpringgeoError, ImportError):
    """A library that this use needs is not installed, or cannot be loaded."""


def need(module: str, purpose: str, extra: str) -> ModuleType:
    """Return a module by its dotted name.

    Parameters
    ----------
    module : str
    purpose : str
        What needs it, for the message: "a drawing".
    extra : str
        The extra of this package that brings it.

    Raises
    ------
    MissingLibraryError
        It is not there, or breaks on import; says how to get it.

    Examples
    --------
    >>> need("math", "an example", "plots").hypot(3, 4)
    5.0
    """
    name = module.partition(".")[0]
    try:
        return import_module(module)
    except ModuleNotFoundError as exc:
        absent = exc.name is not None and exc.name.partition(".")[0] == name
        why = "which is not installed" if absent else f"which lacks {exc.name}"
        raise _missing(purpose, name, why, extra) from exc
    except ImportError as exc:
        why = f"which cannot be loaded ({' '.join(str(exc).split())[:100]})"
        raise _missing(purpose, name, why, extra) from exc


def _missing(purpose: str, name: str, why: str, extra: str) -> MissingLibraryError:
    return MissingLibraryError(
        f"{purpose} needs {name}, {why}; get it with: pip install 'springgeo[{extra}]', or in a "
        f"checkout: pip install '.[{extra}]'"
    )
