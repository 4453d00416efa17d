"""Functions of numpy that let a number through that remembers how it was found."""

from __future__ import annotations

from typing import Any

import numpy as np

from springgeo.worked.number import Worked


def array(x: Any) -> Any:
    """Return a value as an array."""
    return x if isinstance(x, Worked) else np.asarray(x)


def where(holds: Any, x: Any, y: Any) -> Any:
    """Return ``x`` where something holds and ``y`` elsewhere."""
    if isinstance(x, Worked) or isinstance(y, Worked):
        return x if bool(holds) else y
    return np.where(holds, x, y)


def least(x: Any, y: Any) -> Any:
    """Return the lesser, NaN where either is."""
    if isinstance(x, Worked) or isinstance(y, Worked):
        return y if np.isnan(y) or y < x else x
    return np.minimum(x, y)


def greatest(x: Any, y: Any) -> Any:
    """Return the greater, NaN where either is."""
    if isinstance(x, Worked) or isinstance(y, Worked):
        return y if np.isnan(y) or y > x else x
    return np.maximum(x, y)


def known_least(x: Any, y: Any) -> Any:
    """Return the lesser, the other one where one is NaN."""
    if isinstance(x, Worked) or isinstance(y, Worked):
        return x if np.isnan(y) or x < y else y
    return np.fmin(x, y)
