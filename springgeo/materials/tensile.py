"""Tensile strength by wire diameter: rows, a logarithmic formula, or a textbook power law."""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise
from typing import Annotated, Literal, NamedTuple, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import BaseModel, ConfigDict, Field, model_validator

from springgeo.units import FACTORS

Array = NDArray[np.float64]
Positive = Annotated[float, Field(strict=True, gt=0, allow_inf_nan=False)]
Pair = tuple[Positive, Positive]
Triple = tuple[Positive, Positive, Positive]
_SLACK = 1e-6  # relative: a size given in inches must not miss its own row by rounding
# built when first used: a command uses few of them
_STRICT = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Strength(NamedTuple):
    """Tensile strength, MPa, with its source and how that is known."""

    minimum: float
    maximum: float | None
    source: str
    known: str


class _Law(BaseModel):
    model_config = _STRICT

    source: Annotated[str, Field(min_length=1, max_length=600)]
    known: Literal["read", "from memory", "common practice"]
    length: Literal["mm", "in"]
    stress: Literal["MPa", "ksi"]

    @property
    def span(self) -> tuple[float, float]:
        """Smallest and largest diameter, mm."""
        low, high = self._span()
        return low * FACTORS["length"][self.length], high * FACTORS["length"][self.length]

    def minimum(self, d: ArrayLike) -> Array:
        """Return the least tensile strength, MPa; NaN outside the span."""
        return self._within(d, upper=False)

    def maximum(self, d: ArrayLike) -> Array:
        """Return the greatest tensile strength, MPa; NaN outside the span or if not known."""
        return self._within(d, upper=True)

    def covers(self, d: float) -> bool:
        """Return whether the law holds for this diameter, mm."""
        low, high = self.span
        return bool(low * (1 - _SLACK) <= d <= high * (1 + _SLACK))

    def _within(self, d: ArrayLike, upper: bool) -> Array:
        size = np.asarray(d, dtype=float) / FACTORS["length"][self.length]
        low, high = self._span()
        inside = (size >= low * (1 - _SLACK)) & (size <= high * (1 + _SLACK))
        value = self._value(np.clip(np.where(inside, size, low), low, high), upper)
        return np.where(inside, value * FACTORS["stress"][self.stress], np.nan)

    def row(self, d: float) -> str:
        """Return in words what holds for a diameter, mm: rows or formula as they are printed."""
        low, high = self._span()
        return self._row(min(max(d / FACTORS["length"][self.length], low), high))

    def _span(self) -> tuple[float, float]:
        raise NotImplementedError

    def _row(self, size: float) -> str:
        raise NotImplementedError

    def _value(self, size: Array, upper: bool) -> Array:
        raise NotImplementedError


class TableLaw(_Law):
    """Rows (diameter, minimum[, maximum]).

    ``interpolation``: ``log`` is a straight line between rows on log-log paper; ``step`` takes
    each row's diameter as the upper end of a size band, the first beginning at ``lowest``.
    """

    kind: Literal["table"]
    interpolation: Literal["log", "step"]
    lowest: Positive | None = None
    rows: Annotated[tuple[Pair | Triple, ...], Field(min_length=1, max_length=500)]

    @model_validator(mode="after")
    def _usable(self) -> Self:
        sizes = [r[0] for r in self.rows]
        if any(b <= a for a, b in pairwise(sizes)):
            raise ValueError("rows need increasing diameters")
        if len({len(r) for r in self.rows}) > 1:
            raise ValueError("either all rows or none need a maximum")
        if any(r[2] < r[1] for r in self.rows if len(r) == 3):
            raise ValueError("a row's maximum is below its minimum")
        if self.interpolation == "step":
            if self.lowest is None or self.lowest > sizes[0]:
                raise ValueError("step rows need 'lowest', the lower end of the first band")
        elif self.lowest is not None:
            raise ValueError("'lowest' is for step rows only")
        return self

    def _span(self) -> tuple[float, float]:
        return self.lowest or self.rows[0][0], self.rows[-1][0]

    def _value(self, size: Array, upper: bool) -> Array:
        column = 2 if upper else 1
        if len(self.rows[0]) <= column:
            return np.full_like(size, np.nan)
        table = np.array(self.rows, dtype=float)
        ends, values = table[:, 0], table[:, column]
        if self.interpolation == "step":
            band = np.searchsorted(ends * (1 + _SLACK), size)
            return np.asarray(values[np.minimum(band, len(ends) - 1)])
        return np.asarray(np.exp(np.interp(np.log(size), np.log(ends), np.log(values))))

    def _row(self, size: float) -> str:
        ends = [r[0] for r in self.rows]
        i = min(bisect_left([x * (1 + _SLACK) for x in ends], size), len(ends) - 1)
        if self.interpolation == "step" or i == 0 or abs(size / ends[i] - 1) < _SLACK:
            return f"row {ends[i]:g} {self.length}: {self.rows[i][1]:g} {self.stress}"
        low, high = self.rows[i - 1], self.rows[i]
        return (
            f"rows {low[0]:g} {self.length}: {low[1]:g} {self.stress} and {high[0]:g} "
            f"{self.length}: {high[1]:g} {self.stress}, a straight line between on log-log paper"
        )


class LogLine(BaseModel):
    """The line ``a - b log10(d)``, not above ``cap``."""

    model_config = _STRICT

    a: Positive
    b: Positive
    cap: Positive | None = None

    def value(self, size: Array) -> Array:
        """Return the line at a diameter in the law's own length unit."""
        line = self.a - self.b * np.log10(size)
        return np.asarray(line if self.cap is None else np.minimum(line, self.cap))


class FormulaLaw(_Law):
    """Minimum and maximum as ``a - b log10(d)``, over ``range``."""

    kind: Literal["formula"]
    range: Pair
    low: LogLine
    high: LogLine | None = None

    @model_validator(mode="after")
    def _usable(self) -> Self:
        if self.range[1] <= self.range[0]:
            raise ValueError("range needs a lower and a higher diameter")
        if float(self.low.value(np.array(self.range[1]))) <= 0:
            raise ValueError("the strength is not above 0 over the whole range")
        return self

    def _span(self) -> tuple[float, float]:
        return self.range

    def _value(self, size: Array, upper: bool) -> Array:
        line = self.high if upper else self.low
        return np.full_like(size, np.nan) if line is None else line.value(size)

    def _row(self, size: float) -> str:  # noqa: ARG002
        cap = "" if self.low.cap is None else f", at most {self.low.cap:g}"
        return f"{self.low.a:g} - {self.low.b:g} log10(d){cap}, {self.stress} of d in {self.length}"


class Piece(BaseModel):
    """``A / d**m`` between two diameters."""

    model_config = _STRICT

    range: Pair
    A: Positive
    m: Annotated[float, Field(strict=True, ge=0, le=2)]


class PowerLaw(_Law):
    """Textbook fits ``A / d**m``; no maximum."""

    kind: Literal["power"]
    pieces: Annotated[tuple[Piece, ...], Field(min_length=1, max_length=20)]

    @model_validator(mode="after")
    def _usable(self) -> Self:
        if any(p.range[1] <= p.range[0] for p in self.pieces):
            raise ValueError("range needs a lower and a higher diameter")
        for a, b in pairwise(self.pieces):
            if a.range[1] != b.range[0]:
                raise ValueError("each piece needs to begin where the one before ends")
        return self

    def _span(self) -> tuple[float, float]:
        return self.pieces[0].range[0], self.pieces[-1].range[1]

    def _value(self, size: Array, upper: bool) -> Array:
        if upper:
            return np.full_like(size, np.nan)
        ends = np.array([p.range[1] for p in self.pieces])
        index = np.minimum(np.searchsorted(ends * (1 + _SLACK), size), len(ends) - 1)
        factor = np.array([p.A for p in self.pieces])[index]
        power: Array = np.array([p.m for p in self.pieces])[index]
        return np.asarray(factor / size**power)

    def _row(self, size: float) -> str:
        piece = next(p for p in self.pieces if size <= p.range[1] * (1 + _SLACK))
        return f"{piece.A:g}/d^{piece.m:g}, {self.stress} of d in {self.length}"


Law = Annotated[TableLaw | FormulaLaw | PowerLaw, Field(discriminator="kind")]
