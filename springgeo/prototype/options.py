"""What a prototype is printed with."""

from __future__ import annotations

import math
from dataclasses import dataclass

from springgeo.errors import refused

# narrowest wire that prints round and whole, in widths of the nozzle
LEAST_WIDTHS = 2.0


@dataclass(frozen=True)
class Options:
    """Choices for a print; mm as printed, after scaling.

    Attributes
    ----------
    scale : float
        1 is true size: pins fit the loops.
    gap : float or None
        Clear distance between coils; one nozzle width if left out.
    nozzle : float
        Width of the nozzle.
    dummy : bool
        A rigid dummy: the body as a tube with the hooks on it, instead of coils.
    flat : bool
        Flats on the underside, for a hold on the bed.
    bed : (float, float) or None
        Width and depth of the printer's bed; a plate that is larger is a finding.
    """

    scale: float = 1.0
    gap: float | None = None
    nozzle: float = 0.4
    dummy: bool = False
    flat: bool = False
    bed: tuple[float, float] | None = None

    def __post_init__(self) -> None:
        for name, value, low, high in (
            ("scale", self.scale, 0.05, 50.0),
            ("gap", self.print_gap, 0.05, 50.0),
            ("nozzle", self.nozzle, 0.05, 5.0),
            *(("bed", side, 1.0, 10_000.0) for side in self.bed or ()),
        ):
            if not (math.isfinite(value) and low <= value <= high):
                text = f"{value:g} is not between {low:g} and {high:g}; choose one that is"
                raise refused(f"bad-{name}", name, text)

    @property
    def print_gap(self) -> float:
        """Clear distance between coils as printed, mm."""
        return self.nozzle if self.gap is None else self.gap
