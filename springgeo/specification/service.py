"""What the spring must do: loads or lengths, duty, temperature."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, field_validator, model_validator

from springgeo.specification.base import SpecModel, limited, one_of, rule, within
from springgeo.specification.quantity import Force, Frequency, Length, Number, Temperature

Duty = Literal["static", "cyclic", "infinite"]


class Range(SpecModel):
    """A part of a load spectrum: lowest and highest load, or length inside hooks, and how often."""

    loads: tuple[Force, Force] | None = None
    lengths: tuple[Length, Length] | None = None
    count: Annotated[Number, limited("cycles", "", "count")]

    @field_validator("loads")
    @classmethod
    def _loads(cls, value: tuple[float, float] | None) -> tuple[float, float] | None:
        return value if value is None else _rising(value, "loads", "N", "load")

    @field_validator("lengths")
    @classmethod
    def _lengths(cls, value: tuple[float, float] | None) -> tuple[float, float] | None:
        return value if value is None else _rising(value, "lengths", "mm", "length")

    @model_validator(mode="after")
    def _one(self) -> Self:
        forms = {"loads": self.loads, "lengths": self.lengths}
        one_of({k: None if v is None else 1.0 for k, v in forms.items()}, "range")
        return self


def _rising(pair: tuple[float, float], name: str, unit: str, what: str) -> tuple[float, float]:
    low, high = (within(name, x, unit, what) for x in pair)
    if low > high:
        text = f"{low:g} {unit} is above {high:g} {unit}; give the lowest first, then the highest"
        raise rule("range-falling", text)
    return low, high


class Service(SpecModel):
    """Working points by load and by length inside hooks; a cycle runs from lowest to highest.

    A ``spectrum`` is a list of ranges with their counts, in place of one range and ``cycles``. An
    ``overload`` is a load that may happen once: what it leaves of the spring is estimated.
    """

    loads: tuple[Force, ...] = Field(default=(), max_length=50)
    lengths: tuple[Length, ...] = Field(default=(), max_length=50)
    duty: Duty = "static"
    cycles: Annotated[Number, limited("cycles", "", "cycles")] | None = None
    spectrum: tuple[Range, ...] = Field(default=(), max_length=200)
    overload: Annotated[Force, limited("loads", "N", "load")] | None = None
    temperature: Annotated[Temperature, limited("temperature", "degC", "temperature")] = 20.0
    forcing_frequency: (
        Annotated[Frequency, limited("forcing_frequency", "Hz", "forcing-frequency")] | None
    ) = None
    peened: bool = False

    @field_validator("loads")
    @classmethod
    def _loads(cls, value: tuple[float, ...]) -> tuple[float, ...]:
        for load in value:
            within("load_least" if 0 < load < 1 else "loads", load, "N", "load")
        return value

    @field_validator("lengths")
    @classmethod
    def _lengths(cls, value: tuple[float, ...]) -> tuple[float, ...]:
        for length in value:
            within("lengths", length, "mm", "length")
        return value

    @model_validator(mode="after")
    def _cycle(self) -> Self:
        if self.spectrum and self.duty != "cyclic":
            raise rule("spectrum-duty", "a spectrum is for duty cyclic: write 'duty: cyclic'")
        if self.spectrum and self.cycles is not None:
            raise rule(
                "two-forms", "spectrum has counts of its own; keep cycles or spectrum, not both"
            )
        if self.duty == "cyclic" and self.cycles is None and not self.spectrum:
            text = "duty cyclic needs cycles, for example 'cycles: 1e6', or a spectrum"
            raise rule("cycles-missing", text)
        if self.cycles is not None and "duty" not in self.model_fields_set:
            raise rule("cycles-duty", "cycles are for duty cyclic: write 'duty: cyclic'")
        if self.duty == "infinite" and self.cycles is not None:
            raise rule(
                "two-forms", "duty infinite and cycles contradict each other; keep one of them"
            )
        return self
