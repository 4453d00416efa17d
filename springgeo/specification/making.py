"""What the sheet says beside the spring itself: its title block, and what is asked of the maker."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Field, StringConstraints, field_validator, model_validator

from springgeo.specification.base import SpecModel, limited, positive, rule
from springgeo.specification.name import plain
from springgeo.specification.quantity import Force, Length, Number, Temperature
from springgeo.trade.dimension_tolerance import Trade

# a line on paper
Line = Annotated[
    str,
    StringConstraints(strip_whitespace=True, min_length=1, max_length=100),
    AfterValidator(plain),
]
Paper = Literal["A4", "A3", "Letter"]
TRADES: dict[Paper, Trade] = {"A4": "metric", "A3": "metric", "Letter": "us"}
Diameter = Literal["mean", "outer", "inner"]
# quantities of which some are left to the maker, so that the others can be held
Free = Literal[
    "wire-diameter", "mean-diameter", "coils", "initial-tension", "free-length", "winding"
]


class Drawing(SpecModel):
    """The title block of the sheet: texts as they are to stand there; nothing is filled in.

    ``date`` is the drawing's own, as written: a sheet never carries the day it was printed.
    ``paper``, A4 if left out, says whose tolerances hold, also in the dimensions of a model: A
    sizes have metric ones, Letter those of the US trade.
    """

    number: Line | None = None
    revision: Line | None = None
    company: Line | None = None
    drawn: Line | None = None
    checked: Line | None = None
    date: Line | None = None
    paper: Paper | None = None

    @property
    def sheet(self) -> Paper:
        """The paper drawn on."""
        return self.paper or "A4"

    @property
    def trade(self) -> Trade:
        """Whose tolerances of dimensions hold on the paper."""
        return TRADES[self.sheet]


class StressRelief(SpecModel):
    """Low-temperature heat treatment after coiling."""

    temperature: Annotated[Temperature, limited("temperature", "degC", "temperature")]
    minutes: Number

    @field_validator("minutes")
    @classmethod
    def _minutes(cls, value: float) -> float:
        return positive(value, "min", "minutes")


class Making(SpecModel):
    """What the maker is asked for.

    ``controls``: which diameter rules and carries the tolerance; left out, the outside one where
    the spring runs in a bore, the inside one over a rod, else the one that the body is given by.
    ``free``: what is left to the maker; left out, what the number of loads leaves.
    ``test_load`` (N) or ``test_length`` (mm, inside hooks): drawn to it once before it is
    measured. ``finish``: surface treatment in words.
    """

    controls: Diameter | None = None
    free: tuple[Free, ...] = Field(default=(), max_length=6)
    finish: Line | None = None
    stress_relief: StressRelief | None = None
    test_load: Annotated[Force, limited("loads", "N", "load")] | None = None
    test_length: Annotated[Length, limited("lengths", "mm", "length")] | None = None

    @model_validator(mode="after")
    def _one(self) -> Self:
        if self.test_load is not None and self.test_length is not None:
            raise rule(
                "two-forms", "test_load and test_length say the same thing; keep one of them"
            )
        return self
