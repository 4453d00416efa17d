"""LAPACK's solver of banded systems, without all else that importing ``scipy.linalg`` brings.

That takes a tenth of a second, a quarter of a short command; the solver alone some milliseconds.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import lru_cache
from importlib import import_module
from importlib.machinery import EXTENSION_SUFFIXES
from importlib.util import find_spec, module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType
from typing import Any, Literal

_NAME = "_flapack"


@lru_cache
def banded(name: Literal["dgbtrf", "dgbtrs", "dpbtrf", "dpbtrs"]) -> Callable[..., Any]:
    """Return what LAPACK does with bands, as scipy wraps it: of any matrix, of a definite one.

    ``…trf`` takes it apart into factors, ``…trs`` solves with them.
    """
    try:
        found: Callable[..., Any] = getattr(_alone(), name)
    except (ImportError, OSError, AttributeError):  # scipy built, or laid out, in another way
        from scipy.linalg import lapack

        found = getattr(lapack, name)
    return found


@lru_cache
def _alone() -> ModuleType:
    """Return the very file that ``scipy.linalg.lapack`` has its functions from."""
    if os.name == "nt":  # where it says itself where its libraries are
        import_module("scipy")
    scipy = find_spec("scipy")
    if scipy is None or scipy.origin is None:
        raise ImportError(_NAME)
    for suffix in EXTENSION_SUFFIXES:
        file = Path(scipy.origin).parent / "linalg" / f"{_NAME}{suffix}"
        if file.exists():
            spec = spec_from_file_location(f"scipy.linalg.{_NAME}", file)
            if spec is None or spec.loader is None:
                break
            module = module_from_spec(spec)
            spec.loader.exec_module(module)
            return module
    raise ImportError(_NAME)
