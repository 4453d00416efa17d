"""Functions of numpy that let a number through that remembers how it was found.

Such a number stands for an array without dimensions, and is typed as one.
"""

from __future__ import annotations

from typing import cast

import numpy as np
import numpy.typing as npt

from springgeo.worked.number import Worked

Array = npt.NDArray[np.float64]
Value = float | Array
Holds = bool | npt.NDArray[np.bool_]


def array(x: npt.ArrayLike) -> Array:
    """Return a value as an array."""
    return _let(x) if isinstance(x, Worked) else np.asarray(x)


def where(holds: Holds, x: Value, y: Value) -> Array:
    """Return ``x`` where something holds and ``y`` elsewhere."""
    if isinstance(x, Worked) or isinstance(y, Worked):
        return _let(x if bool(holds) else y)
    return np.where(holds, x, y)


def least(x: Value, y: Value) -> Array:
    """Return the lesser, NaN where either is."""
    if isinstance(x, Worked) or isinstance(y, Worked):
        return _let(y if np.isnan(y) or y < x else x)
    return _let(np.minimum(x, y))


def greatest(x: Value, y: Value) -> Array:
    """Return the greater, NaN where either is."""
    if isinstance(x, Worked) or isinstance(y, Worked):
        return _let(y if np.isnan(y) or y > x else x)
    return _let(np.maximum(x, y))


def known_least(x: Value, y: Value) -> Array:
    """Return the lesser, the other one where one is NaN."""
    if isinstance(x, Worked) or isinstance(y, Worked):
        return _let(x if np.isnan(y) or x < y else y)
    return _let(np.fmin(x, y))


def _let(x: Value) -> Array:
    return cast("Array", x)
