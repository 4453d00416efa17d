"""A value with its uncertainty."""

from __future__ import annotations

from typing import NamedTuple

# of the normal distribution, two-sided 95 %
Z95 = 1.959964


class Value(NamedTuple):
    """A value and the half width of its 95 % interval, in the inside unit of its kind."""

    value: float
    uncertainty: float
    kind: str = "length"

    @property
    def low(self) -> float:
        """Lower end of the interval."""
        return self.value - self.uncertainty

    @property
    def high(self) -> float:
        """Upper end of the interval."""
        return self.value + self.uncertainty
