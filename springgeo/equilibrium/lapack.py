"""LAPACK's solver of banded systems, without all else that importing ``scipy.linalg`` brings.

That takes a tenth of a second, a quarter of a short command; the solver alone some milliseconds.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from importlib.machinery import EXTENSION_SUFFIXES
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any

_NAME = "_flapack"


@lru_cache
def banded_solver() -> Callable[..., Any]:
    """Return LAPACK's dgbsv as scipy wraps it."""
    try:
        return _alone()
    except (ImportError, OSError, AttributeError):  # scipy built, or laid out, in another way
        from scipy.linalg import lapack

        found: Callable[..., Any] = lapack.dgbsv
        return found


def _alone() -> Callable[..., Any]:
    """Return the function from the very file that ``scipy.linalg.lapack`` has it from."""
    import scipy  # says where its libraries are

    folder = Path(scipy.__file__).parent / "linalg"
    for suffix in EXTENSION_SUFFIXES:
        file = folder / f"{_NAME}{suffix}"
        if file.exists():
            spec = spec_from_file_location(f"scipy.linalg.{_NAME}", file)
            if spec is None or spec.loader is None:
                break
            module = module_from_spec(spec)
            spec.loader.exec_module(module)
            found: Callable[..., Any] = module.dgbsv
            return found
    raise ImportError(_NAME)
