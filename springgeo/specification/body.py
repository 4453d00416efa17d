"""The coiled body, in the alternatives the trade writes down."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Self

from pydantic import ValidationInfo, field_validator, model_validator

from springgeo.curve import pitch_for_distance
from springgeo.message import Message
from springgeo.specification.base import (
    ROUNDING,
    SpecModel,
    limited,
    one_of,
    positive,
    rule,
    within,
)
from springgeo.specification.quantity import Force, Length, Number, Stress
from springgeo.specification.wire import Hand
from springgeo.text import quantity as q
from springgeo.text.quantity import Quantity
from springgeo.text.shown import said
from springgeo.trade.limits import limits
from springgeo.trade.practice import practice

# wound-solid coils are modelled this much apart, in wire diameters
COIL_CLEARANCE = practice("coil_clearance")


class Body(SpecModel):
    """One of mean, outer, inner diameter or index; coils; hand; tension or an open pitch.

    Without ``pitch`` or ``gap`` the body is wound solid: neighbouring coils touch to the stated
    ``coil_clearance`` (0.002 d), and ``initial_tension`` or ``initial_stress`` (uncorrected
    shear stress) may be given; left out, the middle of the preferred range is used.
    """

    mean_diameter: Length | None = None
    outer_diameter: Length | None = None
    inner_diameter: Length | None = None
    index: Number | None = None
    coils: Annotated[Number, limited("coils", "", "coils")]
    hand: Hand = "right"
    initial_tension: Force | None = None
    initial_stress: Stress | None = None
    pitch: Length | None = None
    gap: Length | None = None
    coil_clearance: (
        Annotated[Number, limited("coil_clearance", "(in wire diameters)", "coil-clearance")] | None
    ) = None

    @field_validator("mean_diameter", "outer_diameter", "inner_diameter", "index", "pitch")
    @classmethod
    def _positive(cls, value: float | None) -> float | None:
        return value if value is None else positive(value, "", "value")

    @field_validator("initial_tension", "initial_stress")
    @classmethod
    def _tension(cls, value: float | None, info: ValidationInfo) -> float | None:
        if not value or value < 0:
            return value
        name = str(info.field_name)
        unit = "N" if name == "initial_tension" else "MPa"
        return within(name, value, unit, name.replace("_", "-"))

    @field_validator("initial_tension", "initial_stress", "gap")
    @classmethod
    def _not_negative(cls, value: float | None) -> float | None:
        if value is not None and value < 0:
            raise rule(
                "negative",
                f"{value:g} is negative; coils can only press together: "
                "use zero, or wind the body open with a pitch",
            )
        return value

    @model_validator(mode="after")
    def _alternatives(self) -> Self:
        one_of(self._diameters(), "coil diameter")
        for a, b in (("initial_tension", "initial_stress"), ("pitch", "gap")):
            if getattr(self, a) is not None and getattr(self, b) is not None:
                raise rule("two-forms", f"{a} and {b} say the same thing; keep one of them")
        if self.is_open and (self.initial_tension or self.initial_stress):
            raise rule(
                "tension-in-open-coils",
                "initial tension needs touching coils; leave out "
                "initial_tension and initial_stress, or pitch and gap",
            )
        if self.is_open and self.coil_clearance is not None:
            raise rule(
                "two-forms", "coil_clearance is for touching coils; leave it out, or pitch and gap"
            )
        return self

    def _diameters(self) -> dict[str, float | None]:
        return {
            "mean_diameter": self.mean_diameter,
            "outer_diameter": self.outer_diameter,
            "inner_diameter": self.inner_diameter,
            "index": self.index,
        }

    @property
    def is_open(self) -> bool:
        """Whether the body is wound open, without initial tension."""
        return self.pitch is not None or self.gap is not None

    def resolve(self, wire_diameter: float) -> ResolvedBody:
        """Return the body in mean diameter and pitch for wire of ``wire_diameter`` mm.

        Raises
        ------
        PydanticCustomError
            The index or the pitch is outside the limits.
        """
        mean = self._mean(wire_diameter)
        _check_index(mean, wire_diameter)
        touching = pitch_for_distance(mean / 2, wire_diameter)
        if self.is_open:
            pitch = self.pitch if self.pitch is not None else wire_diameter + (self.gap or 0.0)
            within("pitch", pitch / wire_diameter, "wire diameters", "pitch")
            if pitch < touching:
                raise rule(
                    "pitch-too-small",
                    said(
                        "pitch {pitch} is below {touching}, at which the coils touch; raise it, or "
                        "leave it out for a body wound solid",
                        **q.lengths(5, pitch=pitch, touching=touching),
                    ),
                )
        else:
            clearance = COIL_CLEARANCE if self.coil_clearance is None else self.coil_clearance
            pitch = pitch_for_distance(mean / 2, wire_diameter * (1 + clearance))
        return ResolvedBody(wire_diameter, mean, self.coils, self.hand, pitch, self.is_open)

    def _mean(self, wire_diameter: float) -> float:
        if self.mean_diameter is not None:
            return self.mean_diameter
        if self.outer_diameter is not None:
            return self.outer_diameter - wire_diameter
        if self.inner_diameter is not None:
            return self.inner_diameter + wire_diameter
        return (self.index or math.nan) * wire_diameter


def _check_index(mean: float, wire_diameter: float) -> None:
    low, high = limits()["index"]
    index = mean / wire_diameter
    named: dict[str, Quantity | Message] = {
        "index": said(
            "index {index} (mean diameter {mean} over wire {diameter})",
            index=q.number(index),
            **q.lengths(4, mean=mean, diameter=wire_diameter),
        ),
        "low": q.number(low, 6),
        "high": q.number(high, 6),
    }
    if not index >= low * (1 - ROUNDING):
        raise rule(
            "index-too-small",
            said(
                "{index} is below the limit {low}; raise the coil diameter or use thinner wire",
                **named,
            ),
            "body",
        )
    if not index <= high * (1 + ROUNDING):
        raise rule(
            "index-too-large",
            said(
                "{index} is above the limit {high}; reduce the coil diameter or use thicker wire",
                **named,
            ),
            "body",
        )


@dataclass(frozen=True)
class ResolvedBody:
    """The body in numbers: mm."""

    wire_diameter: float
    mean_diameter: float
    coils: float
    hand: Hand
    pitch: float
    is_open: bool

    @property
    def index(self) -> float:
        """C = D/d."""
        return self.mean_diameter / self.wire_diameter

    @property
    def coil_radius(self) -> float:
        """R = D/2, mm."""
        return self.mean_diameter / 2
