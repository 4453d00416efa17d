"""An end a job may use: a style, with its own proportions or some given by the job."""

from __future__ import annotations

import re
import typing
from collections.abc import Mapping
from typing import NamedTuple, Self

from pydantic import ValidationError

from springgeo import units
from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from springgeo.errors import SpecError, refused
from springgeo.specification.problems import findings_of
from springgeo.specification.quantity import Bare

_PROPORTION = re.compile(r"\s*(\d+\.?\d*|\.\d+)\s*([dR])\s*")


class EndOption(NamedTuple):
    """A style and lengths that follow the spring: (parameter, factor, "d" or "R").

    A parameter that is no length, such as a number of coils, follows nothing: its base is "".
    """

    style: str
    proportions: tuple[tuple[str, float, str], ...] = ()

    @classmethod
    def parse(cls, value: object) -> Self:
        """Return the option a job writes down: a name, or a mapping with ``style``.

        Lengths are written in wire diameters or mean coil radii: ``bend_radius: 2.5 d``,
        ``hook_length: 3 R``; a number of coils as it is: ``coils: 3``.

        Raises
        ------
        SpecError
            No such style or parameter, or not a proportion of a length.
        """
        if isinstance(value, cls):
            return value
        data = {"style": value} if isinstance(value, str) else value
        if not isinstance(data, Mapping) or not isinstance(data.get("style"), str):
            text = "needs a style by name, or {style: full-twisted-loop, bend_radius: 2.5 d}"
            raise refused("bad-end", "choice.ends", text)
        style = registry.get(data["style"])
        rest = tuple(
            (_number if _is_plain(style, str(k)) else _proportion)(str(k), v)
            for k, v in data.items()
            if k != "style"
        )
        option = cls(style.name, rest)
        try:
            registry.parameters(style, option.parameters(1.0, 8.0))
        except ValidationError as exc:
            raise SpecError(findings_of(exc, style.parameters, "choice.ends")) from None
        return option

    def parameters(self, d: float, C: float) -> dict[str, float]:
        """Return the style's parameters for a wire of ``d`` mm wound to the index C, mm."""
        size = {"d": d, "R": d * C / 2, "": 1.0}
        return {name: factor * size[base] for name, factor, base in self.proportions}

    def written(self) -> str | dict[str, str | float]:
        """Return the option as a job writes it down."""
        if not self.proportions:
            return self.style
        rest = {k: f"{f:.12g} {base}" if base else f for k, f, base in self.proportions}
        return {"style": self.style, **rest}

    def __str__(self) -> str:
        given = (f"{k} {f:g} {base}".rstrip() for k, f, base in self.proportions)
        return ", ".join((self.style, *given))


def _is_plain(style: EndStyle, name: str) -> bool:
    """Return whether a parameter is a number without a unit."""
    field = style.parameters.model_fields.get(name)
    if field is None or _is_length(field):
        return False
    return float in (field.annotation, *typing.get_args(field.annotation))


def _is_length(kind: object) -> bool:
    """Return whether a type, or what it is made of, is marked as having a unit."""
    notes = getattr(kind, "metadata", getattr(kind, "__metadata__", ()))
    if any(isinstance(note, Bare) for note in notes):
        return True
    inner = (getattr(kind, "annotation", None), *typing.get_args(kind))
    return any(_is_length(x) for x in inner if x is not None)


def _number(name: str, value: object) -> tuple[str, float, str]:
    try:
        return name, units.parse(value, "number"), ""
    except ValueError:
        text = f"'{str(value)[:40]}' needs a plain number: this is no length"
        raise refused("bad-proportion", f"choice.ends.{name[:60]}", text) from None


def _proportion(name: str, value: object) -> tuple[str, float, str]:
    found = _PROPORTION.fullmatch(value) if isinstance(value, str) else None
    if found is None or not float(found[1]) > 0:
        text = (
            f"'{str(value)[:40]}' needs a number of wire diameters or coil radii, such as "
            "'2 d' or '0.8 R'"
        )
        raise refused("bad-proportion", f"choice.ends.{name[:60]}", text)
    return name, float(found[1]), found[2]
