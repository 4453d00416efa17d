"""What the spring must do: loads or lengths, duty, temperature."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, field_validator, model_validator

from springgeo.specification.base import SpecModel, rule, within
from springgeo.specification.quantity import Force, Frequency, Length, Number, Temperature

Duty = Literal["static", "cyclic", "infinite"]


class Service(SpecModel):
    """Working points by load and by length inside hooks; a cycle runs from lowest to highest."""

    loads: tuple[Force, ...] = Field(default=(), max_length=50)
    lengths: tuple[Length, ...] = Field(default=(), max_length=50)
    duty: Duty = "static"
    cycles: Number | None = None
    temperature: Temperature = 20.0
    forcing_frequency: Frequency | None = None
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

    @field_validator("temperature")
    @classmethod
    def _temperature(cls, value: float) -> float:
        return within("temperature", value, "degC", "temperature")

    @field_validator("cycles")
    @classmethod
    def _cycles(cls, value: float | None) -> float | None:
        return value if value is None else within("cycles", value, "", "cycles")

    @field_validator("forcing_frequency")
    @classmethod
    def _frequency(cls, value: float | None) -> float | None:
        if value is None:
            return value
        return within("forcing_frequency", value, "Hz", "forcing-frequency")

    @model_validator(mode="after")
    def _cycle(self) -> Self:
        if self.duty == "cyclic" and self.cycles is None:
            raise rule("cycles-missing", "duty cyclic needs cycles, for example 'cycles: 1e6'")
        if self.duty == "infinite" and self.cycles is not None:
            raise rule(
                "two-forms", "duty infinite and cycles contradict each other; keep one of them"
            )
        return self
