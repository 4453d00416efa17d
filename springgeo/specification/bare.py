"""Numbers of a file that have no unit: mm, N, MPa, degC, though answers be asked for in inch."""

from __future__ import annotations

import typing
from collections.abc import Iterator, Mapping

from pydantic import BaseModel

from springgeo import units
from springgeo.findings import Finding, warning
from springgeo.specification.quantity import Bare
from springgeo.text.shown import said

# what parameters of ends that are counts are called; their styles know the others
_COUNTS = {"coils"}
_MOST = 6


def bare_fields(model: type[BaseModel], data: object) -> tuple[str, ...]:
    """Return the dotted keys of the numbers that have no unit and need one, as a file has them."""
    return tuple(dict.fromkeys(_of_model(model, data, "")))


def bare_finding(fields: tuple[str, ...]) -> Finding:
    """Return the warning that numbers without unit are not in the inch units of the answers."""
    named = ", ".join(fields[:_MOST]) + (", ..." if len(fields) > _MOST else "")
    text = said(
        "inch is how answers are shown; numbers without a unit are mm, N, MPa, degC all the same: "
        "{fields}; write the unit that is meant, such as '0.047 in' or '1.2 mm'",
        fields=named,
    )
    return warning("bare-number", "units", text)


def _of_model(model: type[BaseModel], data: object, path: str) -> Iterator[str]:
    if not isinstance(data, Mapping):
        return
    for key, value in data.items():
        field = model.model_fields.get(key)
        if field is not None:
            yield from _of(field.annotation, field.metadata, value, f"{path}{key}")
        elif model.model_config.get("extra") == "allow" and key not in _COUNTS and _is_bare(value):
            yield f"{path}{key}"


def _of(kind: object, notes: typing.Sequence[object], value: object, path: str) -> Iterator[str]:
    if any(isinstance(note, Bare) for note in notes):
        if _is_bare(value):
            yield path
    elif isinstance(kind, type) and issubclass(kind, BaseModel):
        yield from _of_model(kind, value, f"{path}.")
    elif hasattr(kind, "__metadata__"):
        yield from _of(typing.get_args(kind)[0], kind.__metadata__, value, path)
    else:
        many = value if isinstance(value, list | tuple) else [value]
        for inner in typing.get_args(kind):
            for one in many:
                yield from _of(inner, (), one, path)


def _is_bare(value: object) -> bool:
    if isinstance(value, str):
        try:
            number, unit = units.split(value[:60], "")
        except ValueError:
            return False
        return not unit and number != 0
    return isinstance(value, int | float) and not isinstance(value, bool) and value != 0
