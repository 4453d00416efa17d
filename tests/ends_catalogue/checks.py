"""One spring with a style of end at A and another at B, and every check on its centreline.

Nothing here knows a style by name: parameters are drawn from the range each style states.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from springgeo.curve import hook_approach, pitch_for_distance
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle
from springgeo.errors import SpecError
from springgeo.spring.geometry import Geometry, assemble

from .parts import clearances

CLEARANCE = 1.002
MEASURED = ("loop_radius", "hook_length", "opening")


@dataclass(frozen=True)
class Case:
    """A body end (mm), a hand, turns, and a style with parameters (mm) for each end."""

    body: BodyEnd
    turns: float
    hand: Any
    styles: tuple[EndStyle, EndStyle]
    given: tuple[dict[str, float], dict[str, float]]

    def build(self) -> Geometry:
        """Return the whole spring; raises SpecError."""
        a, b = (
            style.shape(style.parameters(**asked), self.body)
            for style, asked in zip(self.styles, self.given, strict=True)
        )
        return assemble(self.body, self.turns, self.hand, a, b)

    def facts(self) -> dict[str, Any]:
        """Return what is needed to build it again."""
        return {
            "index": 2 * self.body.coil_radius / self.body.wire_diameter,
            "diameter": self.body.wire_diameter,
            "pitch": self.body.pitch,
            "turns": self.turns,
            "hand": self.hand,
            "ends": [
                {"style": s.name, **asked} for s, asked in zip(self.styles, self.given, strict=True)
            ],
        }


def body_end(index: float, diameter: float = 1.0, pitch: float | None = None) -> BodyEnd:
    """Return a body's end, wound solid or with ``pitch`` in wire diameters."""
    radius = index * diameter / 2
    solid = pitch_for_distance(radius, CLEARANCE * diameter)
    return BodyEnd(diameter, radius, solid if pitch is None else pitch * diameter)


def random_case(style: EndStyle, seed: int) -> Case:
    """Return a spring with ``style`` at A and the same or another at B."""
    draw = random.Random(f"catalogue {style.name} {seed}")
    diameter = 0.05 * 400 ** draw.random()
    pitch = None if draw.random() < 0.7 else draw.uniform(1.05, 5.0)
    body = body_end(3.0 * (25 / 3) ** draw.random(), diameter, pitch)
    if not style.ranges(body) and style.ranges(body_end(10.0)):
        body = body_end(draw.uniform(5.0, 25.0), diameter, pitch)
    others = [s for s in registry.styles().values() if s.ranges(body)]
    b = style if draw.random() < 0.5 or not others else draw.choice(others)
    given = _asked(style, body, draw), _asked(b, body, draw)
    hand = draw.choice(["right", "left"])
    return Case(body, draw.uniform(2.0, 9.0), hand, (style, b), given)


def _asked(style: EndStyle, body: BodyEnd, draw: random.Random) -> dict[str, float]:
    chosen = {}
    for name, (low, high) in style.ranges(body).items():
        if draw.random() > 0.2:
            share = min(1.0, max(0.0, draw.uniform(-0.125, 1.125)))
            chosen[name] = low + share * (high - low)
    return chosen


@dataclass
class Outcome:
    """What went wrong, by tag."""

    failures: list[tuple[str, str]] = field(default_factory=list)
    geometry: Geometry | None = None


def outcome(case: Case) -> Outcome:
    """Return every failed check of the centreline; never raises for a spring out of reach."""
    try:
        g = case.build()
    except SpecError as exc:
        return Outcome([("spec", str(exc))])
    except Exception as exc:
        return Outcome([("centreline", f"{type(exc).__name__}: {exc}")])
    return Outcome(list(problems(case, g)), g)


def problems(case: Case, g: Geometry) -> Iterator[tuple[str, str]]:
    """Yield (tag, text) for each check that does not hold."""
    d = g.wire_diameter
    if not np.all(g.path.joint_angles() <= 1e-9):
        yield "joint", f"tangent jump {g.path.joint_angles().max():.3g}"
    if not np.all(g.path.joint_gaps() <= 1e-9 * d):
        yield "joint", f"gap {g.path.joint_gaps().max() / d:.3g} d"
    near = hook_approach(g.path, d)
    if near is not None and near.distance < d * (1 - 1e-9):
        yield "self-contact", f"{near.distance / d:.4f} d between {near.labels}"
    for name, gap in clearances(g).items():
        if gap < 0.01 * d:
            yield "self-contact", f"{name} {gap / d:.4f} d from the wire"
    box = g.box
    if abs(box[1, 2] - box[0, 2] - g.overall_length) > 1e-6 * d:
        yield "box", f"{(box[1, 2] - box[0, 2] - g.overall_length) / d:.3g} d off"
    for side in (0, 1):
        yield from _end(case, g, side)


def _end(case: Case, g: Geometry, side: int) -> Iterator[tuple[str, str]]:
    shape, d = (g.first, g.second)[side], g.wire_diameter
    for name in MEASURED:
        asked = case.given[side].get(name)
        if asked is not None and abs(getattr(shape, name) / asked - 1) > 1e-9:
            yield "centreline", f"{name} {getattr(shape, name)} instead of {asked}"
    if not shape.pieces:
        return
    s, out = g.contact_s[side], (-1.0, 1.0)[side]
    end = g.path.length if side else 0.0
    tip, tangent = g.path.point(np.array([end]))[0], g.path.tangent(np.array([end]))[0]
    face = shape_face(g, side)
    cut = out * tip[2] - d / 2 * math.sqrt(max(0.0, 1 - tangent[2] ** 2)) - face
    if shape.opening is not None and abs(cut - shape.opening) > 1e-6 * d:
        yield "centreline", f"opening {cut / d:.6g} d, stated {shape.opening / d:.6g} d"
    if s is None:
        return
    at, t = g.path.point(np.array([s]))[0], g.path.tangent(np.array([s]))[0]
    if abs(out * at[2] - d / 2 - face - shape.hook_length) > 1e-9 * g.length:
        yield "centreline", "the contact is not where the hook length says"
    if abs(math.hypot(at[0], at[1]) - shape.offset) > 1e-9 * g.length:
        yield "centreline", f"contact {math.hypot(at[0], at[1]) / d:.3g} d off the axis"
    if abs(t[2]) > 1e-9:
        yield "centreline", "the wire is not level at the contact"
    if not np.allclose(g.contacts[side], at - [0.0, 0.0, out * d / 2], atol=1e-9 * g.length):
        yield "centreline", "contact point"
    yield from _loop(g, shape, side)


def _loop(g: Geometry, shape: EndShape, side: int) -> Iterator[tuple[str, str]]:
    """The loop's own wire: its radius from curvature, and its plane, parallel to the axis."""
    label = ("first.", "second.")[side]
    loops = [p for p in g.path.pieces if p.label.startswith(label) and p.role == "loop"]
    for piece in loops:
        q = np.linspace(0.0, piece.segment.length, 25)
        t, k = piece.segment.tangent(q), piece.segment.curvature(q)
        bent = np.linalg.norm(k, axis=1)
        if shape.loop_radius and abs(bent.max() * shape.loop_radius - 1) > 1e-6:
            yield "centreline", f"loop radius {1 / bent.max():.6g}, stated {shape.loop_radius:.6g}"
        if abs(np.cross(t, k)[:, 2] / bent).max() > 1e-8:
            yield "centreline", "the loop's plane is tilted to the axis"


def shape_face(g: Geometry, side: int) -> float:
    """Return the height of the body's end face, mm, outward positive."""
    return g.height - g.second.hook_length if side else -g.first.hook_length
