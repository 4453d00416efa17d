"""An end style from elsewhere is used only through these guards: it is asked for proof each time.

Whatever it raises, returns or leaves out becomes a refusal in one line that names the style.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from typing import get_args

import numpy as np

from springgeo.curve import Piece, Role, Segment
from springgeo.ends.described import is_number, require_described
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle, Range
from springgeo.errors import SpecError, refused
from springgeo.fittings import Part
from springgeo.plugins import PluginError, contained

ROLES = tuple(role for role in get_args(Role) if role != "body")
# places on a segment that are looked at
LOOKS = 17
# more wire than this many turns of the coil is no end
MOST_TURNS = 200.0


def accepted(thing: object, name: str, own: bool) -> EndStyle:
    """Return a style as it is to be used; raises ValueError with what is wrong with it."""
    if not isinstance(thing, EndStyle):
        raise ValueError("it is not an EndStyle")
    if thing.name != name:
        raise ValueError(f"its name is '{thing.name}', its entry point '{name}'")
    if own:
        return thing
    try:
        contained(lambda: require_described(thing))
    except PluginError as exc:
        raise ValueError(str(exc)) from exc
    return replace(
        thing,
        title=_plain(thing.title),
        summary=_plain(thing.summary),
        sketch="\n".join(map(_plain, thing.sketch.splitlines())),
        shape=lambda parameters, end: _shape(thing, parameters, end),
        ranges=lambda end: _ranges(thing, end),
    )


def _shape(style: EndStyle, parameters: object, end: BodyEnd) -> EndShape:
    def made() -> EndShape:
        with np.errstate(all="ignore"):  # what is not finite is said below
            shape = style.shape(parameters, end)
            problems = list(_problems(shape, end))
        for problem in problems:
            raise PluginError(problem)
        return shape

    try:
        return contained(made)
    except PluginError as exc:
        raise failed(style.name, exc) from exc


def _ranges(style: EndStyle, end: BodyEnd) -> Range:
    def made() -> Range:
        found = style.ranges(end)
        known = style.parameters.model_fields
        if not isinstance(found, Mapping) or not set(found) <= set(known):
            raise PluginError("its ranges are no mapping of its parameters")
        if not all(
            is_number(low) and is_number(high) and low <= high for low, high in found.values()
        ):
            raise PluginError("a range is not two rising numbers")
        return dict(found)

    try:
        return contained(made)
    except PluginError as exc:
        raise failed(style.name, exc) from exc


def failed(name: str, exc: PluginError) -> SpecError:
    """Return the refusal of an end style that did not do what it is there for."""
    text = "".join(c if c.isprintable() else " " for c in f"end style '{name}' failed: {exc}")
    return refused("end-style-failed", "style", " ".join(text.split()))


def _problems(shape: EndShape, end: BodyEnd) -> Iterator[str]:
    """Yield what is wrong with a shape, before anything is computed from it."""
    if not isinstance(shape, EndShape):
        yield f"it returned {type(shape).__name__}, not an EndShape"
    elif not isinstance(shape.pieces, tuple) or not all(map(_is_piece, shape.pieces)):
        yield "its pieces are no tuple of Piece with a segment, a label and a role"
    else:
        yield from _wire_problems(shape, end)
        yield from _number_problems(shape)
        yield from _part_problems(shape)


def _wire_problems(shape: EndShape, end: BodyEnd) -> Iterator[str]:
    lengths = [float(p.segment.length) for p in shape.pieces]
    if not all(math.isfinite(x) and x >= 0 for x in lengths):
        raise PluginError("a segment has no finite length")
    if sum(lengths) > MOST_TURNS * 2 * math.pi * end.coil_radius:
        raise PluginError(f"it has {sum(lengths):.3g} mm of wire, {MOST_TURNS:g} turns and more")
    for piece in shape.pieces:
        yield from _segment_problems(piece)
    for name in ("contact_s", "grip_s"):
        value = getattr(shape, name)
        if is_number(value) and not 0 <= value <= sum(lengths) * (1 + 1e-9):
            yield f"its {name} lies beyond its wire"


def _number_problems(shape: EndShape) -> Iterator[str]:
    for name in (f.name for f in fields(shape) if f.name not in ("pieces", "parts", "built")):
        value = getattr(shape, name)
        if not (value is None or is_number(value)):
            yield f"its {name} is {value!r:.40}, not a finite number"
    if not isinstance(shape.built, Mapping):
        yield f"its built is {shape.built!r:.40}, not a mapping of parameters"
        return
    for name, value in shape.built.items():
        if not (isinstance(value, str) or is_number(value)):
            yield f"its built {name!r:.40} is {value!r:.40}, neither text nor a finite number"


def _part_problems(shape: EndShape) -> Iterator[str]:
    if not isinstance(shape.parts, tuple) or not all(isinstance(p, Part) for p in shape.parts):
        yield "its parts are no tuple of Part"
    elif not all(np.isfinite(p.box).all() and math.isfinite(p.volume) for p in shape.parts):
        yield "a part is not finite"


def _segment_problems(piece: Piece) -> Iterator[str]:
    segment = piece.segment
    s = np.linspace(0.0, segment.length, LOOKS)
    for call in ("point", "tangent", "curvature", "normal"):
        found = np.asarray(getattr(segment, call)(s), dtype=float)
        if found.shape != (LOOKS, 3) or not np.isfinite(found).all():
            yield f"the {call} of its '{piece.label}' is not finite"
            return
        if call in ("tangent", "normal") and np.abs(np.linalg.norm(found, axis=1) - 1).max() > 1e-6:
            yield f"the {call} of its '{piece.label}' has not the length one"


def _is_piece(piece: object) -> bool:
    return (
        isinstance(piece, Piece)
        and isinstance(piece.segment, Segment)
        and isinstance(piece.label, str)
        and piece.role in ROLES
    )


def _plain(text: str) -> str:
    return "".join(c if c.isprintable() else " " for c in text)[:200]
