"""What the spring is hooked to and what stands round it: pins, plates, studs, bores, rods."""

from __future__ import annotations

import math
from typing import Literal, Self

from pydantic import Field, field_validator, model_validator

from springgeo.specification.base import SpecModel, one_of, positive, rule
from springgeo.specification.quantity import Length
from springgeo.text import quantity as q
from springgeo.text.shown import said

Direction = Literal["across"] | tuple[float, float, float]
Down = Literal["level"] | tuple[float, float, float]
# what turning the pin leaves the end: none is hindered; none about the pull; only that about its
# own axis is left; none is left
Holding = Literal["free", "kept", "swivelling", "held"]


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _vector_or(value: object, word: str, example: str) -> object:
    """Return a direction as given: ``word``, or three numbers; raise what to give instead."""
    if value == word or (
        isinstance(value, list | tuple) and len(value) == 3 and all(map(_is_number, value))
    ):
        return value
    shown = " ".join(str(value)[:40].split())
    text = f"'{shown}' is no direction; give {word}, or three numbers such as {example}"
    raise rule("bad-direction", text)


def _size(value: tuple[float, float, float], example: str) -> float:
    """Return the length of a direction; raise if it has none."""
    size = math.hypot(*value)
    if not (math.isfinite(size) and size > 1e-9):
        raise rule("bad-direction", f"{list(value)} has no direction; give for example {example}")
    return size


class _Part(SpecModel):
    """Base of the parts: every length is above zero."""

    @field_validator("*")
    @classmethod
    def _positive(cls, value: object) -> object:
        return positive(value, "mm", "length") if isinstance(value, float) else value


class Pin(_Part):
    """A round pin: ``diameter`` and ``length`` mm, centred on the wire.

    ``direction``: ``across`` (perpendicular to the loop's plane) or a vector in the frame of
    the end: x in the loop's plane, z from the contact toward the body.
    """

    diameter: Length
    length: Length
    direction: Direction = "across"

    @field_validator("direction", mode="before")
    @classmethod
    def _form(cls, value: object) -> object:
        return _vector_or(
            value, "across", "[0, 1, 0.3]: x in the loop's plane, y across it, z toward the body"
        )

    @field_validator("direction")
    @classmethod
    def _direction(cls, value: Direction) -> Direction:
        if not isinstance(value, str):
            size = _size(value, "[0, 1, 0], or across")
            if abs(value[2]) > 0.9 * size:
                raise rule(
                    "bad-direction",
                    f"{list(value)} runs along the spring's axis, so the "
                    "pin cannot carry the load; keep z below 0.9 of its length",
                )
        return value


class Plate(_Part):
    """A flat plate with a round hole (an eye): the wire passes through the hole.

    ``edge_distance`` from the centre of the hole to the edge the loop reaches over, mm.
    """

    hole_diameter: Length
    thickness: Length
    edge_distance: Length

    @property
    def web(self) -> float:
        """Material between hole and edge, mm."""
        return self.edge_distance - self.hole_diameter / 2

    @model_validator(mode="after")
    def _web(self) -> Self:
        if self.web <= 0:
            raise rule(
                "no-web",
                said(
                    "edge_distance {edge_distance} leaves nothing beside a hole of {hole_diameter};"
                    " make it larger than {hole_diameter_2}",
                    **q.lengths(
                        6,
                        edge_distance=self.edge_distance,
                        hole_diameter=self.hole_diameter,
                        hole_diameter_2=self.hole_diameter / 2,
                    ),
                ),
            )
        return self


class Stud(_Part):
    """A stud with a turned groove that takes the loop; mm. ``length`` is that of the stud."""

    diameter: Length
    groove_diameter: Length
    groove_width: Length
    length: Length

    @model_validator(mode="after")
    def _groove(self) -> Self:
        for inner, outer in (("groove_diameter", "diameter"), ("groove_width", "length")):
            if getattr(self, inner) >= getattr(self, outer):
                raise rule(
                    "no-groove",
                    said(
                        "{inner} {width} is not below {outer} {room}; reduce it",
                        inner=inner,
                        **q.lengths(6, width=getattr(self, inner), room=getattr(self, outer)),
                        outer=outer,
                    ),
                )
        return self


class Bore(_Part):
    """A round bore the spring runs in; ``diameter`` mm, on the spring's axis."""

    diameter: Length


class Rod(_Part):
    """A round rod inside the body; ``diameter`` mm, on the spring's axis.

    With ``length`` it is that long, centred on the body; without, it fills the body only.
    """

    diameter: Length
    length: Length | None = None


class EndMate(SpecModel):
    """What one end is hooked to: one of ``pin``, ``plate``, ``stud``; and how it is held there.

    ``holding``: ``free`` to turn on its contact; its loop plane ``kept`` by the pin, so that it
    does not turn about the pull; ``swivelling`` about its own axis, but kept from leaning;
    ``held`` in rotation, as by a plug or a shackle. Left out it is what the end style says:
    ``free`` for a hook. An end that is held so follows a skew pin. With ``holding`` alone, what
    it is hooked to is not examined.
    """

    pin: Pin | None = None
    plate: Plate | None = None
    stud: Stud | None = None
    holding: Holding | None = None

    @model_validator(mode="after")
    def _one(self) -> Self:
        parts = {"pin": self.pin, "plate": self.plate, "stud": self.stud}
        if self.holding is None or any(v is not None for v in parts.values()):
            one_of({k: None if v is None else 1.0 for k, v in parts.items()}, "mating part")
        return self

    @property
    def part(self) -> Pin | Plate | Stud | None:
        """The one part given."""
        return self.pin or self.plate or self.stud


class Around(SpecModel):
    """What stands round the spring or inside it."""

    bore: Bore | None = None
    rod: Rod | None = None


class Mating(SpecModel):
    """Everything beside the spring.

    ``play``: how far the two mounts may come nearer than the free length, mm. ``over_travel``:
    how far the mechanism may pass the longest working length, mm. ``offset``: by how much the pin
    of the second end stands out of line, mm: x in the loop plane of the first end, y across it.
    ``down``: where the wire's own weight pulls, ``level`` (a level spring: across it, in the loop
    plane of the first end) or a direction in the spring's frame; left out, weight does not count.
    """

    first: EndMate | None = None
    second: EndMate | None = None
    around: Around = Around()
    play: Length = Field(default=0.0, ge=0.0)
    over_travel: Length = Field(default=0.0, ge=0.0)
    offset: tuple[Length, Length] | None = None
    down: Down | None = None

    @field_validator("down", mode="before")
    @classmethod
    def _form(cls, value: object) -> object:
        if value is None:
            return None
        return _vector_or(value, "level", "[0, -1, 0]: z along the spring from its first end")

    @field_validator("down")
    @classmethod
    def _down(cls, value: Down | None) -> Down | None:
        if isinstance(value, tuple):
            _size(value, "[0, -1, 0], or level")
        return value
