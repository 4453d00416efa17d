"""The whole specification, as a file holds it."""

from __future__ import annotations

import math
from typing import Annotated, Any, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError

from springgeo.specification.base import SpecModel, rule
from springgeo.specification.body import Body
from springgeo.specification.mating import Mating
from springgeo.specification.name import Name
from springgeo.specification.quantity import Angle
from springgeo.specification.service import Service
from springgeo.specification.wire import Wire


class EndChoice(BaseModel):
    """A style by name, and its parameters; the style itself validates them.

    A name alone is a style with its own proportions.
    """

    model_config = ConfigDict(frozen=True, extra="allow")

    style: Annotated[str, Field(max_length=100)]

    @model_validator(mode="before")
    @classmethod
    def _named(cls, value: Any) -> Any:
        return {"style": value} if isinstance(value, str) else value

    @property
    def parameters(self) -> dict[str, object]:
        """Everything beside ``style``, as written."""
        return dict(self.__pydantic_extra__ or {})


class Ends(SpecModel):
    """Both ends, and the angle between their loop planes.

    ``angle`` left out: the coil count is kept to the letter and the angle falls where it falls.
    ``angle`` given: the coil count is moved to the nearest one that gives it, at most a quarter
    turn.
    """

    a: EndChoice
    b: EndChoice
    angle: Angle | None = None

    @model_validator(mode="after")
    def _angle(self) -> Self:
        if self.angle is not None and abs(self.angle) > 6.2832:
            raise rule(
                "angle-too-large",
                f"{math.degrees(self.angle):.4g} deg is more than a full turn (360 deg); "
                "give 0 to 180 deg",
                "ends.angle",
            )
        return self


class Spec(SpecModel):
    """One spring: wire, body, ends, service, and what it is hooked to."""

    name: Name = "extension spring"
    wire: Wire
    body: Body
    ends: Ends
    service: Service = Service()
    mating: Mating | None = None

    @model_validator(mode="after")
    def _cross(self) -> Self:
        try:
            self.body.resolve(self.wire.diameter)
        except PydanticCustomError as exc:
            known = exc.context or {}
            raise rule(known["code"], known["message"], known["field"] or "body") from None
        return self
