"""What a maker must know of one end: every parameter of its style as built, by its trade name."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from springgeo.drawing.rows.row import Row, Sheet, plus_minus
from springgeo.ends.protocol import EndShape
from springgeo.specification.end_names import Side
from springgeo.spring.end import End
from springgeo.text.quantity import length, number
from springgeo.text.shown import said, word
from springgeo.trade.dimension_tolerance import general_allowance, mouth_allowance
from springgeo.trade.threads import named

# symbol and words of the parameters of end styles
NAMES: dict[str, tuple[str, str]] = {
    "hook_length": ("LH", word("hook length")),
    "opening": ("e", word("cut end to body's face")),
    "loop_radius": ("r1", word("loop radius, centreline")),
    "bend_radius": ("r2", word("bend radius, centreline")),
    "rise_radius": ("r3", word("rise radius, centreline")),
    "coils": ("", word("coils in the end")),
    "end_diameter": ("", word("last coil, mean diameter")),
    "thread": ("", word("thread")),
    "hole_height": ("", word("last coil to edge of hole")),
    "shank_length": ("", word("last coil to end of shank")),
}
# sizes of a fitting's part that are a parameter by another name
_SIZES = {
    "end_diameter": "last coil, mean diameter",
    "eye_diameter": "inside diameter",
    "hook_diameter": "inside diameter",
}


def end_rows(of: Sheet, side: Side) -> Iterator[Row]:
    """Return the rows of one end, heading first."""
    end: End = getattr(of.model, side)
    shape: EndShape = getattr(of.model.geometry, side)
    title = word(end.style.title)
    if side == "first":
        yield Row("", said("FIRST END: {style}", style=title), "")
    else:
        yield Row("", said("SECOND END: {style}", style=title), "")
    if shape.parts:
        yield from _fitted(shape)
    if end.style.holds_load:
        yield from _hook(of, side)
    told = {size for part in shape.parts for size, _ in part.sizes} | {"hook length"}
    if shape.parts:
        told.add("coils")
    order = list(NAMES)
    told_last = sorted(
        parameters(end, shape).items(),
        key=lambda e: order.index(e[0]) if e[0] in order else len(order),
    )
    for name, value in told_last:
        if name == "hook_length" or _SIZES.get(name, name.replace("_", " ")) in told:
            continue
        symbol, words = NAMES.get(name, ("", name.replace("_", " ")))
        if name == "loop_radius" and _mouth(of, side) is None:
            words = word("rise radius, centreline")  # of an end that nothing hangs in
        yield Row(symbol, words, _value(name, value))


def parameters(end: End, shape: EndShape) -> dict[str, float | str]:
    """Return every parameter of an end's style as built, as far as style or user says it."""
    names = type(end.parameters).model_fields
    built = shape.as_built(names)
    given = {n: v for n, v in end.parameters if isinstance(v, float | int | str)}
    return {n: built.get(n, given.get(n)) for n in names if n in built or n in given}  # type: ignore[misc]


def _value(name: str, value: float | str) -> str:
    if isinstance(value, str):
        thread = named(value)
        if thread is None:
            return value
        return said(
            "{name} – {fit} ({standard})",
            name=thread.name,
            fit=thread.fit,
            standard=thread.standard,
        )
    if name == "coils":
        return said("{n}", n=number(round(value, 3), 9))
    return said("{length}", length=length(value))


def _fitted(shape: EndShape) -> Iterator[Row]:
    yield Row("LH", word("body to load point"), _reference(shape.hook_length))
    held = number(round(shape.gripped_coils, 3), 9)
    yield Row("", word("coils held, inactive"), said("{n}", n=held))
    rigid = shape.built.get("coils")
    if isinstance(rigid, float):  # the others settle to them from the body
        yield Row("", word("of them on the fitting"), _value("coils", rigid))
    for part in shape.parts:
        for words, value in part.sizes:
            name = said("{part}, {size}", part=word(part.name), size=word(words))
            yield Row("", name, said("{length}", length=length(value)))
    yield Row("", word("pull-out"), word("prove by test"))


def _mouth(of: Sheet, side: Side) -> float | None:
    g = of.summary.geometry
    return g.mouth_first if side == "first" else g.mouth_second


def _reference(value: float) -> str:
    return said("({length})", length=length(value))


def _hook(of: Sheet, side: Side) -> Iterator[Row]:
    shape: EndShape = getattr(of.model.geometry, side)
    off = plus_minus(general_allowance(shape.hook_length))
    value = said("{length}", length=length(shape.hook_length))
    if off is not None:
        value = said(
            "{length} ±{off}",
            length=length(shape.hook_length, unit=False, within=off),
            off=length(off, 2),
        )
    yield Row("LH", word("hook length"), value)
    found = _mouth(of, side)
    if found == 0.0:
        yield Row("m", word("mouth, clear"), word("none: the loop is closed"))
    elif found is not None:
        allowed = mouth_allowance(found, of.model.body.wire_diameter).value
        value = said(
            "{length} ±{off}",
            length=length(found, places=2, unit=False),
            off=length(allowed, places=2),
        )
        yield Row("m", word("mouth, clear"), value)
    if found is not None:
        yield Row("b", word("width over the hook"), _reference(hook_width(of, side)))


def hook_width(of: Sheet, side: Side) -> float:
    """Return how wide the hook is over its wire, in the plane of the loop, mm."""
    shape: EndShape = getattr(of.model.geometry, side)
    azimuth = shape.azimuth or 0.0
    along = np.array([np.cos(azimuth), np.sin(azimuth), 0.0])
    reach = [
        p.segment.point(np.linspace(0.0, p.segment.length, 60)) @ along
        for p in shape.pieces
        if p.role not in ("coil", "gripped")
    ]
    u = np.concatenate(reach)
    return float(u.max() - u.min()) + of.model.body.wire_diameter
