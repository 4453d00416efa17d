"""A self-test for those who write end styles: everything a style states is measured on its wire.

>>> from springgeo.testing import check_end_style
>>> from springgeo.ends import registry
>>> check_end_style(registry.get("machine-half-loop"), springs=2)
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from springgeo.curve import Path, hook_approach, measured_radius, pitch_for_distance
from springgeo.ends import registry
from springgeo.ends.foreign import accepted
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle
from springgeo.errors import SpecError
from springgeo.specification.body import COIL_CLEARANCE
from springgeo.specification.wire import Hand
from springgeo.spring.geometry import Geometry, assemble
from springgeo.text.quantity import SYSTEMS

__all__ = ["check_end_style", "problems_of"]

TURNS = 4.3
INDICES = 4.0, 6.0, 8.0, 12.0, 16.0, 25.0
# how far what is stated may be off what is measured: of itself, and of the wire's diameter
RELATIVE = 1e-6
# coils that an end winds and does not tell of, in turns
UNTOLD = 0.75
_ASKED = "hook_length", "opening", "bend_radius", "loop_radius"


def check_end_style(
    style: EndStyle, *, springs: int = 24, seed: int = 0, solid: bool = False
) -> None:
    """Raise AssertionError with a line for every way in which a style is not what it says.

    Springs of many indices and both hands are made with its parameters left out, and anywhere in
    the ranges it guarantees, corners included. On each, r1, r2, hook length, opening, contact and
    loop plane are measured on the centreline, joints and distances checked, and coils it winds
    compared with those it states.

    Parameters
    ----------
    style : EndStyle
    springs : int
        How many are made.
    seed : int
        The same seed, the same springs.
    solid : bool
        Whether three of them are also built as solids and found valid (loads the kernel).

    Raises
    ------
    AssertionError
    """
    found = list(dict.fromkeys(problems_of(style, springs, seed, solid)))
    if found:
        shown = "\n".join(f"  {line}" for line in found[:20])
        more = f"\n  and {len(found) - 20} more" if len(found) > 20 else ""
        raise AssertionError(f"end style '{style.name}':\n{shown}{more}")


def problems_of(style: EndStyle, springs: int, seed: int, solid: bool) -> Iterator[str]:
    """Yield what `check_end_style` finds, in the order of the springs."""
    try:
        style = accepted(style, style.name, False)
    except ValueError as exc:
        yield str(exc)
        return
    draw, built = random.Random(f"{style.name} {seed}"), 0
    for i in range(springs):
        body = _body(draw, INDICES[i % len(INDICES)])
        try:
            given = _asked(style, body, draw, i)
        except SpecError as exc:
            yield str(exc)
            continue
        d = body.wire_diameter
        where = f"index {2 * body.coil_radius / d:.3g}, d {d:.3g}, {given}"
        try:
            shape = style.shape(style.parameters(**given), body)
        except SpecError as exc:
            if "end-style-failed" in str(exc) or given or style.ranges(body):
                yield f"{where}: {exc}"
            continue
        made = _geometry(body, shape, draw.choice(("right", "left")), draw.random() < 0.5)
        found = [*_wire(made), *_statements(made, shape, given)]
        if not given:
            found += _units(style, body, shape)
        if solid and built < 3 and not found:
            found += list(_solid(made))
            built += 1
        yield from (f"{where}: {text}" for text in found)


def _units(style: EndStyle, body: BodyEnd, shape: EndShape) -> Iterator[str]:
    """Yield where a style in mm is another than without a word."""
    said = style.decided({}, SYSTEMS[0])
    if said and style.shape(style.parameters(**said), body).built != shape.built:
        yield f"it is built otherwise than without a word where {said} is said, its own in mm"


def _body(draw: random.Random, index: float) -> BodyEnd:
    d = draw.choice((0.5, 1.0, 2.0))
    r = index * d / 2
    pitch = pitch_for_distance(r, d * (1 + COIL_CLEARANCE))
    return BodyEnd(d, r, pitch if draw.random() < 0.7 else d * draw.uniform(1.1, 1.6))


def _asked(style: EndStyle, body: BodyEnd, draw: random.Random, number: int) -> dict[str, float]:
    """Return parameters: none for the first six springs, then corners, then anywhere."""
    if number < len(INDICES):
        return {}
    given: dict[str, float] = {}
    for name, (low, high) in style.ranges(body).items():
        share = draw.random() if number % 3 else float(draw.random() < 0.5)
        if draw.random() < 0.8:
            given[name] = low + share * (high - low)
    return given


def _geometry(body: BodyEnd, shape: EndShape, hand: Hand, at_a: bool) -> Geometry:
    plain = registry.get("plain")
    other = plain.shape(plain.parameters(), body)
    return assemble(body, TURNS, hand, *((shape, other) if at_a else (other, shape)))


def _wire(g: Geometry) -> Iterator[str]:
    d = g.wire_diameter
    if float(g.path.joint_gaps().max(initial=0.0)) > 1e-9 * d:
        yield "its pieces do not meet, or do not start at P = (R, 0, 0)"
    if float(g.path.joint_angles().max(initial=0.0)) > 1e-9:
        yield "the wire has a kink at a joint, or does not start along the coil"
    near = hook_approach(g.path, d)
    if near is not None and near.distance < d * (1 - 1e-9):
        yield f"its wire comes within {near.distance / d:.3g} d of other wire: {near.labels}"
    span = float(g.box[1, 2] - g.box[0, 2])
    if abs(span - g.overall_length) > RELATIVE * d:
        over = (span - g.overall_length) / d
        yield f"the spring is {over:.3g} d longer than hook_length and reach say"


def _statements(g: Geometry, shape: EndShape, given: dict[str, float]) -> Iterator[str]:
    """Compare what the shape states with its wire, in the local frame it was drawn in."""
    for name in _ASKED:
        stated, asked = getattr(shape, name), given.get(name)
        if asked is not None and not _same(stated, asked, g.wire_diameter):
            yield f"{name} was asked for {asked:.6g} mm, and is {stated}"
    if not shape.pieces:
        return
    path, d = Path(shape.pieces), g.wire_diameter
    for name, role in (("loop_radius", "loop"), ("bend_radius", "bend")):
        stated = getattr(shape, name)
        first = next((p for p in shape.pieces if p.role == role), None)
        if stated is not None and first is not None:
            yield from _differs(name, stated, measured_radius(first), d)
    if shape.opening is not None:
        last = np.array([path.length])
        slope = float(path.tangent(last)[0, 2])
        cut = float(path.point(last)[0, 2]) - d / 2 * math.sqrt(max(0.0, 1 - slope**2))
        yield from _differs("opening", shape.opening, cut - d / 2, d)
    if shape.contact_s is not None:
        yield from _contact(path, shape, d)
    yield from _coils(path, shape)


def _contact(path: Path, shape: EndShape, d: float) -> Iterator[str]:
    s = np.array([shape.contact_s])
    (x, y, z), t = path.point(s)[0].tolist(), path.tangent(s)[0]
    yield from _differs("hook_length", shape.hook_length, z - d, d)
    yield from _differs("offset", shape.offset, math.hypot(x, y), d)
    if abs(float(t[2])) > RELATIVE:
        yield "contact_s is not where the wire is level: not the apex of the loop"
    if shape.azimuth is not None:
        away = shape.azimuth - math.atan2(-float(t[1]), -float(t[0]))
        if abs(math.sin(away)) > RELATIVE:
            yield "azimuth is not the direction of the loop's plane"


def _coils(path: Path, shape: EndShape) -> Iterator[str]:
    """Compare the turns that coil and gripped pieces make about the axis with those stated."""
    wound = 0.0
    for piece in path.pieces:
        if piece.role in ("coil", "gripped"):
            p = piece.segment.point(np.linspace(0.0, piece.segment.length, 400))
            wound += float(np.ptp(np.unwrap(np.arctan2(p[:, 1], p[:, 0])))) / (2 * math.pi)
    stated = shape.working_coils + shape.gripped_coils
    if abs(wound - stated) > UNTOLD:
        yield f"its wire winds {wound:.3g} coils, stated are {stated:.3g} working or gripped"
    if shape.working_coils > 0 and not shape.active_coils > 0:
        yield "it winds working coils and does not say what they are worth (active_coils)"


def _differs(name: str, stated: float, measured: float, d: float) -> Iterator[str]:
    if not _same(stated, measured, d):
        yield f"{name} is stated as {stated:.9g} mm and measures {measured:.9g} mm"


def _same(stated: Any, wanted: float, d: float) -> bool:
    return stated is not None and abs(stated - wanted) <= RELATIVE * max(abs(wanted), d)


def _solid(g: Geometry) -> Iterator[str]:
    from springgeo.solid import is_closed, part_solid, tube_solid, volume

    wire = tube_solid(g.path, g.wire_diameter / 2)
    if not is_closed(wire):
        yield "the solid is not one valid closed solid"
    exact = math.pi * g.wire_diameter**2 / 4 * g.path.length
    if abs(volume(wire) / exact - 1) > RELATIVE:
        yield "the solid's volume is not that of its wire: it passes through itself"
    for part in g.parts:
        if not is_closed(part_solid(replace(part))):
            yield f"its part '{part.name}' is not one valid closed solid"
