"""The whole specification, as a file holds it."""

from __future__ import annotations

import math
from typing import Annotated, Self

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr, model_validator
from pydantic_core import PydanticCustomError

from springgeo.specification.base import SpecModel, rule
from springgeo.specification.body import Body
from springgeo.specification.making import Drawing, Making
from springgeo.specification.mating import Mating
from springgeo.specification.name import Name
from springgeo.specification.quantity import Angle
from springgeo.specification.service import Service
from springgeo.specification.tolerances import Tolerances
from springgeo.specification.wire import Wire
from springgeo.text.quantity import Units
from springgeo.text.shown import Language


class EndChoice(BaseModel):
    """A style by name, and its parameters; the style itself validates them.

    A name alone is a style with its own proportions.
    """

    model_config = ConfigDict(frozen=True, extra="allow")

    style: Annotated[str, Field(max_length=100)]

    @model_validator(mode="before")
    @classmethod
    def _named(cls, value: object) -> object:
        return {"style": value} if isinstance(value, str) else value

    @property
    def parameters(self) -> dict[str, object]:
        """Everything beside ``style``, as written."""
        return dict(self.__pydantic_extra__ or {})


class Ends(SpecModel):
    """Both ends, and the angle between their loop planes.

    ``angle`` left out: the coil count is kept to the letter and the angle falls where it falls.
    ``angle`` given: the coil count is moved to the nearest one that gives it, at most a quarter
    turn. ``facing`` in its place says which way the hooks open, too: the angle from the side that
    A opens to, to the side that B opens to, right-handed about the direction from A to B, 0 to 360
    deg; at 0 both open to the same side, at 180 to opposite ones. The coil count is then moved by
    at most half a turn.
    """

    first: EndChoice
    second: EndChoice
    angle: Angle | None = None
    facing: Angle | None = None

    @model_validator(mode="after")
    def _angle(self) -> Self:
        if self.angle is not None and abs(self.angle) > 6.2832:
            raise rule(
                "angle-too-large",
                f"{math.degrees(self.angle):.4g} deg is more than a full turn (360 deg); "
                "give 0 to 180 deg",
                "ends.angle",
            )
        if self.facing is None:
            return self
        if self.angle is not None:
            text = "facing and angle both place the loops; keep facing, which says more"
            raise rule("two-forms", text, "ends.facing")
        if not 0 <= self.facing <= 6.2832:
            text = f"{math.degrees(self.facing):.4g} deg is outside 0 to 360 deg; bring it within"
            raise rule("facing-out-of-range", text, "ends.facing")
        return self


class Spec(SpecModel):
    """One spring: wire, body, ends, service, mating parts, tolerances, and what its sheet says.

    ``units`` and ``language`` are those of tables, page and sheet; bare numbers are mm, N, MPa
    whatever they say, and a warning names them where ``units`` is inch. With inch a fitting's
    thread of which nothing is said is a unified one.
    """

    name: Name = "extension spring"
    wire: Wire
    body: Body
    ends: Ends
    service: Service = Service()
    mating: Mating | None = None
    tolerances: Tolerances | None = None
    making: Making = Making()
    drawing: Drawing = Drawing()
    # how the answers are shown; what is written again is in mm, so these are not
    units: Annotated[Units, Field(exclude=True)] = "mm"
    language: Annotated[Language, Field(exclude=True)] = "en"

    # keys of a file in inch whose numbers have no unit
    _bare: tuple[str, ...] = PrivateAttr(default=())

    @property
    def bare(self) -> tuple[str, ...]:
        """Dotted keys of the numbers that a file with ``units: inch`` gives without a unit."""
        return self._bare

    def remember_bare(self, fields: tuple[str, ...]) -> Self:
        """Return the specification, which then knows them."""
        self._bare = fields
        return self

    @model_validator(mode="after")
    def _cross(self) -> Self:
        try:
            self.body.resolve(self.wire.diameter)
        except PydanticCustomError as exc:
            known = exc.context or {}
            raise rule(known["code"], known["message"], known["field"] or "body") from None
        return self
