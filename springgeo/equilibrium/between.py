"""States between those that were solved: interpolated where the curve is known to be smooth."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from operator import attrgetter

from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.solved import Solved
from springgeo.equilibrium.sweep import EXACT, Stretch

# how often a stretch of the curve is halved to be smooth
_HALVINGS = 3
# a curve that is covered for many questions has to be so many times better
_FINELY = 0.1
_load = attrgetter("load")


@dataclass(frozen=True, eq=False)
class Between:
    """Answers to questions along a load curve, good to a few thousandths of a wire diameter.

    Between solved states that are known to be near enough to each other strains are interpolated
    (``equilibrium.sweep``); elsewhere a state is solved. Not for a working point.

    Parameters
    ----------
    balance : Balance
    known : mapping of float to Solved
        What was solved so far, by load; it grows as ``solve`` is asked, and by nothing else.
    solve : callable
        The equilibrium at a load, N; raises SpecError.
    """

    balance: Balance
    known: Mapping[float, Solved]
    solve: Callable[[float], Solved]
    # loads between which the curve is known to be smooth
    _smooth: set[tuple[float, float]] = field(default_factory=set, repr=False)

    def state(self, load: float) -> Solved:
        """Return the equilibrium at a load above zero, N; raises SpecError."""
        at = self._beside(load)
        return at.at(load) if isinstance(at, Stretch) else at

    def extension(self, load: float) -> float:
        """Return the extension at a load above zero, N, mm; raises SpecError."""
        at = self._beside(load)
        return at.extension(load) if isinstance(at, Stretch) else at.extension

    def _beside(self, load: float) -> Solved | Stretch:
        """Return the state at a load, N, or a smooth stretch of the curve that it lies in."""
        if load in self.known:
            return self.known[load]
        before = [s for s in self.known.values() if s.load < load]
        after = [s for s in self.known.values() if s.load > load]
        if not before or not after:
            return self.solve(load)
        a, b = max(before, key=_load), min(after, key=_load)
        stretch = Stretch(self.balance, a, b)
        if any(low <= a.load and b.load <= high for low, high in self._smooth):
            return stretch
        found = self.solve(load)
        if stretch.met(found):
            self._smooth.add((a.load, b.load))
        return found

    def cover(self, low: float, high: float, halvings: int = _HALVINGS) -> None:
        """See to it that nothing need be solved between two loads, N, with few states.

        Good to a tenth of what else is. Where the curve is not smooth after so many halvings it
        is left as it is. Raises SpecError.
        """
        a, b = self.solve(low), self.solve(high)
        middle = self.solve(math.sqrt(low * high))
        if Stretch(self.balance, a, b).met(middle, _FINELY * EXACT):
            self._smooth.add((low, high))
        elif halvings:
            self.cover(low, middle.load, halvings - 1)
            self.cover(middle.load, high, halvings - 1)
