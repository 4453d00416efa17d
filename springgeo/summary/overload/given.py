"""What an overload is asked of: a load or a length, and what is known of the wire's making."""

from __future__ import annotations

import math
from dataclasses import dataclass

from springgeo.errors import refused


@dataclass(frozen=True)
class Given:
    """A load in N or a length in mm, or neither; refused as a SpecError where out of range.

    ``relieved``: the share of the residual stress of coiling that heat treatment took away.
    ``hardening``: rise of stress over plastic strain beyond the elastic limit, as a share of E.
    """

    load: float | None = None
    length: float | None = None
    relieved: float = 1.0
    hardening: float = 0.0

    def __post_init__(self) -> None:
        if self.load is not None and self.length is not None:
            raise refused("one-of-two", "overload", "give either a load or a length")
        for name, value, unit in (("load", self.load, "N"), ("length", self.length, "mm")):
            if value is not None and not 0 <= value < math.inf:
                text = f"{value} {unit} is not a finite number from zero up"
                raise refused("bad-value", name, text)
        if not 0 <= self.relieved <= 1:
            raise refused("bad-value", "relieved", f"{self.relieved} is not from 0 to 1")
        if not 0 <= self.hardening < 1:
            raise refused("bad-value", "hardening", f"{self.hardening} is not from 0 to below 1")
