"""What an end style from elsewhere says of itself, asked for before anything is drawn with it."""

from __future__ import annotations

import json
import math
from typing import get_args

from springgeo.ends.protocol import ByUnits, EndParameters, EndStyle, Turning, Usual
from springgeo.plugins import PluginError
from springgeo.text.quantity import SYSTEMS


def require_described(style: EndStyle) -> None:
    """Raise PluginError with the first thing that a style does not say as it should."""
    for name in ("title", "summary", "sketch"):
        if not isinstance(getattr(style, name), str):
            raise PluginError(f"its {name} is not a text")
    if not (isinstance(style.parameters, type) and issubclass(style.parameters, EndParameters)):
        raise PluginError("its parameters are no EndParameters")
    if not callable(style.shape) or not callable(style.ranges):
        raise PluginError("its shape or its ranges cannot be called")
    if style.turning not in get_args(Turning):
        raise PluginError(f"its turning is none of {', '.join(get_args(Turning))}")
    if style.usual is not None and not isinstance(style.usual, Usual):
        raise PluginError("its usual hook length is no Usual")
    if not (isinstance(style.by_units, tuple) and all(map(_is_by_units, style.by_units))):
        raise PluginError("its by_units are no tuple of ByUnits")
    style.parameters()  # every parameter may be left out
    for units in SYSTEMS:
        style.parameters(**style.decided({}, units))
    json.dumps(style.parameters.model_json_schema())


def is_number(value: object) -> bool:
    """Return whether a value is a finite number."""
    return isinstance(value, (int, float)) and math.isfinite(value)


def _is_by_units(thing: object) -> bool:
    return (
        isinstance(thing, ByUnits)
        and all(isinstance(v, str) or is_number(v) for v in (thing.mm, thing.inch))
        and isinstance(thing.instead, tuple)
        and all(isinstance(name, str) for name in (thing.name, *thing.instead))
    )
