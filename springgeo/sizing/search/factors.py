"""What the handbook is multiplied by at each index, for one end pair: asked along the wire."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from springgeo.mechanics.value import Array, Value


class Factors(NamedTuple):
    """Factors on the turns of body and hooks, and on the stress at body, A and B.

    Numbers, or one per index. ``coils``: what a coil of the body is worth in handbook coils.
    ``above``, in shares of the preferred range of initial stress: what springs' load curves were
    found to ask above the straight line, beyond the room that is always kept.

    ``aside``: how far out of line the contacts of ends are that pull beside the axis, over d: from
    the one to the other is then further than along it. ``part``: the fraction of a coil that the
    spring asked had, where that is to be kept; NaN where any other will do.

    The defaults are the handbook itself; others come from springs analysed along the wire.
    """

    coils: Value = 1.0
    turns: Value = 1.0
    body: Value = 1.0
    a: Value = 1.0
    b: Value = 1.0
    """The load from which coils are apart, over the initial tension: the one, and the other over
    the number of body coils."""
    apart: Value = 1.0
    knee: Value = 0.0
    above: Value = 0.0
    aside: Value = 0.0
    part: Value = math.nan


@dataclass(frozen=True)
class ByIndex:
    """Factors at some indices, between which they run straight; beyond the last ones they stay.

    A spring's shape scales with its wire, so of all dimensions the index alone counts.
    """

    known: Mapping[float, Factors]

    def at(self, C: Array) -> Factors:
        """Return the factors at indices, each of the shape of ``C``."""
        knots = sorted(self.known)
        columns = zip(*(self.known[knot] for knot in knots), strict=True)
        return Factors(*(np.interp(C, knots, column) for column in columns))


HANDBOOK = ByIndex({8.0: Factors()})
