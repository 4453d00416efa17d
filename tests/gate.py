"""What of a grid of cases is in the gate: an even part of it; the rest is marked slow."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import Any

import pytest


def thinned(every: int, *axes: Sequence[Any]) -> list[Any]:
    """Return all combinations, one in ``every`` of them in the gate.

    Combinations whose places on the axes add up to a multiple of ``every`` are in it, so that
    every value of every axis is, where the axes are long enough.
    """
    found = []
    for places in product(*(range(len(axis)) for axis in axes)):
        values = [axis[i] for axis, i in zip(axes, places, strict=True)]
        marks = () if sum(places) % every == 0 else pytest.mark.slow
        name = "-".join(str(getattr(v, "name", v)) for v in values)
        found.append(pytest.param(*values, marks=marks, id=name))
    return found
