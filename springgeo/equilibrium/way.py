"""A way along a load curve: states that are found one from the other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from operator import attrgetter

import numpy as np

from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.branch import same_branch
from springgeo.equilibrium.newton import NotSettledError
from springgeo.equilibrium.solved import Solved
from springgeo.equilibrium.sweep import Stretch

# so many times the load of the state it starts from is a leap
_LEAP = 2.0
# the share of a load that is a small step
_SMALL = 1 / 50
# a state is used to step down from up to so many times the load
_DOWN = 4.0
# a load that is not found at once is sought again by way of these shares of it
_LADDER = 0.125, 0.25, 0.5, 0.75
# where nothing is known a length is sought from so many times the least load
_FIRST = 1e3
_FAILED = NotSettledError, np.linalg.LinAlgError
_load = attrgetter("load")


@dataclass(frozen=True, eq=False)
class Way:
    """States of one spring, each found from those found before on the same way.

    A new way for every question makes its answer one of the question alone; one way for many of
    them costs less, and an answer may lie some 1e-9 beside that of a new one.

    Parameters
    ----------
    balance : Balance
    begun : sequence of Solved
        States of nearly this spring, good to start from.
    known : dict of float to Solved
        What was found, by load: to begin with the state at the least load, if anything.
    """

    balance: Balance
    begun: Sequence[Solved] = ()
    known: dict[float, Solved] = field(default_factory=dict)
    # states that leaps are held against
    _footing: dict[float, Solved] = field(default_factory=dict)

    def at(self, load: float) -> Solved:
        """Return the equilibrium at a load above zero, N; raises NotSettledError."""
        if load not in self.known:
            try:
                self.known[load] = self._followed(load)
            except _FAILED:
                for share in _LADDER:
                    with suppress(*_FAILED):
                        self.known[share * load] = self._followed(share * load)
                self.known[load] = self._followed(load)
        return self.known[load]

    def at_extension(self, extension: float) -> Solved:
        """Return the equilibrium at an extension above zero, mm; raises NotSettledError."""
        near = self._toward(extension)
        if near.extension != extension:
            near = self._refined(near, extension)
            self.known[near.load] = near
        return near

    def _followed(self, load: float) -> Solved:
        """Return the equilibrium at a load that the curve leads to, in smaller steps if need be."""
        start = max((s for s in self.begun if _LEAP * s.load < load), key=_load, default=None)
        if start is not None and any(start.load <= x < load for x in self.known):
            start = None
        while True:
            found = self.balance.at_load(load, *self._near(load))
            if start is not None and start.load not in self._footing:
                # a leap from a state of nearly this spring: it may be held against that itself
                if self._held(start, found):
                    return found
                self._footing[start.load] = self.balance.at_load(start.load, start)
            before = self._astray(found)
            # a small step does not lead to another curve
            if before is None or load - before.load < _SMALL * load:
                return found
            middle = (before.load + load) / 2
            self.known[middle] = self._followed(middle)

    def _held(self, start: Solved, found: Solved) -> bool:
        """Return whether the curve leads to a state from one of nearly this spring, apart."""
        shapes = start.shape, found.shape
        apart = not any(self.balance.in_contact(x) for x in shapes)
        return apart and same_branch(self.balance.rod, start, found)

    def _astray(self, found: Solved) -> Solved | None:
        """Return the nearest state below whose curve does not lead to the one found, or None."""
        known = [*self.known.values(), *self._footing.values()]
        apart = (s for s in known if not self.balance.in_contact(s.shape))
        below = [s for s in apart if s.load < found.load]
        if not below:
            return None
        before = max(below, key=_load)
        return None if same_branch(self.balance.rod, before, found) else before

    def _near(self, load: float) -> tuple[Solved | None, Solved | None]:
        """Return the known state nearest to a load, by preference below it, and a better guess."""
        known = [*self.known.values(), *self.begun]
        below = max((x for x in known if x.load <= load), key=_load, default=None)
        above = min((x for x in known if x.load > load), key=_load, default=None)
        if below is None:
            if above is None or above.load > _DOWN * load:
                return None, None
            apart = not self.balance.in_contact(above.shape)
            return above, self.balance.onward(above, load) if apart else None
        if self.balance.in_contact(below.shape):  # through the knee forces follow no cubic
            if above is None:
                return below, None
            if not self.balance.in_contact(above.shape):
                return below, self.balance.onward(above, load)
            return below, Stretch(self.balance, below, above).at(load)
        if above is None:
            lower = (x for x in known if x.load < below.load)
            before = max(lower, key=_load, default=None)
            if before is not None and self.balance.in_contact(before.shape):
                before = None
            return below, self.balance.onward(below, load, before)
        return below, Stretch(self.balance, below, above).at(load)

    def _toward(self, extension: float) -> Solved:
        """Return a state near an extension, of this spring or nearly; find one if there is none."""
        if len(self.known) <= 1 and not self.begun:
            self.at(_FIRST * min(self.known, default=1.0))
        known = [*self.known.values(), *self.begun]
        return min(known, key=lambda s: abs(s.extension - extension))

    def _refined(self, near: Solved, extension: float) -> Solved:
        """Return the state at an extension: by length where the curve is steady, else by load."""
        low, high = self._bracket(extension)
        near = self._blended(low, high, extension) or near
        for _ in range(60):
            try:
                found = self.balance.at_extension(extension, near)
                if self._astray(found) is None:
                    return found
            except _FAILED:
                pass
            load = near.load + (extension - near.extension) / near.compliance
            if not low < load < high:
                load = (low + high) / 2 if math.isfinite(high) else 2 * near.load
            try:
                near = self.at(load)
            except _FAILED:  # the straight line from a soft state overshoots
                high = load
                continue
            off = extension - near.extension
            if abs(off) <= 1e-9 * self.balance.rod.wire_diameter:
                return near
            low, high = (max(low, load), high) if off > 0 else (low, min(high, load))
        return near

    def _blended(self, low: float, high: float, extension: float) -> Solved | None:
        """Return a state between two known loads, if coils press at both."""
        a, b = self.known.get(low), self.known.get(high)
        if a is None or b is None or not all(self.balance.in_contact(x.shape) for x in (a, b)):
            return None
        between = Stretch(self.balance, a, b)
        return between.at(between.load(extension))

    def _bracket(self, extension: float) -> tuple[float, float]:
        below = [s.load for s in self.known.values() if s.extension <= extension]
        above = [s.load for s in self.known.values() if s.extension > extension]
        return max(below, default=0.0), min(above, default=math.inf)
