"""The type of every argument and result: a number or an array of numbers."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Array: TypeAlias = npt.NDArray[np.float64]
Mask: TypeAlias = npt.NDArray[np.bool_]

Value: TypeAlias = float | Array
"""A float, or an array of any shape; the arguments of one call broadcast against each other."""
