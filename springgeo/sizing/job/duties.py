"""How the spring of a job is used."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, model_validator

from springgeo.specification.base import SpecModel, rule
from springgeo.specification.quantity import Frequency, Number, Temperature
from springgeo.specification.service import Duty, Range


class Duties(SpecModel):
    """How the spring is used: between the shortest and the longest of its lengths.

    A ``spectrum`` is a list of ranges of load or length with their counts, in place of ``cycles``.
    """

    duty: Duty = "static"
    cycles: Annotated[Number, Field(gt=0)] | None = None
    spectrum: Annotated[tuple[Range, ...], Field(max_length=200)] = ()
    temperature: Temperature = 20.0
    forcing_frequency: Annotated[Frequency, Field(gt=0)] | None = None
    peened: bool = False

    @model_validator(mode="after")
    def _cycles(self) -> Self:
        if self.spectrum and (self.duty != "cyclic" or self.cycles is not None):
            text = "is for duty cyclic, in place of cycles: write 'duty: cyclic' and no cycles"
            raise rule("spectrum-duty", text, "spectrum")
        if self.spectrum:
            return self
        if (self.duty == "cyclic") != (self.cycles is not None):
            raise rule("cycles", "cycles are for duty cyclic, which needs them: 'cycles: 1e6'")
        return self
