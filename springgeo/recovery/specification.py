"""What was found written as a specification that builds, every value with its uncertainty."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any, Literal

import numpy as np

from springgeo.api import Spring
from springgeo.curve import turn_distance
from springgeo.curve.frame import MIRROR, Array, rotation_z
from springgeo.errors import SpecError
from springgeo.files.surface import Surface
from springgeo.findings import Finding, by_severity
from springgeo.recovery.coiled.body import Body
from springgeo.recovery.distance import off_path
from springgeo.recovery.end.written import HONEST, TRUEST, EndWritten, rounded
from springgeo.recovery.residual import Residual
from springgeo.recovery.result import Recovered
from springgeo.recovery.said import findings
from springgeo.recovery.shape import Shape
from springgeo.recovery.value import Z95, Value
from springgeo.specification.body import COIL_CLEARANCE
from springgeo.specification.end_names import SIDES
from springgeo.trade.limits import limits

_SHOWN = 4000


def recovered(shape: Shape, surface: Surface, name: str) -> Recovered:
    """Return the spring of a shape; its specification builds."""
    body, tube = shape.body, shape.body.tube
    ends = [EndWritten.of(end) for end in shape.ends]
    spec = _specification(name, body, ends)
    spring, changed = _that_builds(spec, ends)
    g = spring.model.geometry
    values = _values(body, ends, spring)
    x = _in_spring(shape, spring, shape.points)
    residual = _residual(spring, x, body.noise)
    axis = tube.axes[:, 2]
    origin = tube.origin + axis * (tube.pitch * body.low / (2 * math.pi))
    origin = origin - axis * (g.first.hook_length + g.wire_diameter / 2)
    state: Literal["wound solid", "open"] = "open" if spring.spec.body.is_open else "wound solid"
    told = tuple(end.told(shape_) for end, shape_ in zip(ends, (g.first, g.second), strict=True))
    known: Iterator[Finding] = findings(shape, surface, told, values, residual, changed, state)
    return Recovered(
        name=name,
        format=surface.format,
        unit=shape.unit,
        points=len(surface.points),
        values=values,
        hand="right" if tube.hand > 0 else "left",
        state=state,
        axis=axis,
        origin=origin / shape.unit.factor,
        ends=(told[0], told[1]),
        residual=residual,
        specification=spring.spec.model_dump(mode="json", exclude_none=True, exclude_defaults=True)
        | {"name": spring.spec.name},
        findings=by_severity(known),
    )


def _specification(name: str, body: Body, ends: list[EndWritten]) -> dict[str, Any]:
    tube = body.tube
    d, D = rounded(2 * tube.wire_radius), rounded(2 * tube.coil_radius)
    turns = (body.high + ends[1].delta - body.low + ends[0].delta) / (2 * math.pi)
    coils: dict[str, Any] = {
        "mean_diameter": D,
        "coils": rounded(turns),
        "hand": "right" if tube.hand > 0 else "left",
    }
    gap = turn_distance(tube.coil_radius, tube.pitch) / d - 1
    sure = 3 * HONEST * float(np.hypot(body.errors[6], 2 * body.errors[7])) / d
    if gap > limits()["coil_clearance"][1] + sure:
        coils["pitch"] = rounded(tube.pitch)
    elif abs(gap - COIL_CLEARANCE) > sure:
        coils["coil_clearance"] = float(f"{min(max(gap, 0.001), 0.02):.3g}")
    return {
        "name": _name(name),
        "wire": {"diameter": d},
        "body": coils,
        "ends": {"first": ends[0].choice, "second": ends[1].choice},
    }


def _name(name: str) -> str:
    text = "".join(c for c in name if c.isprintable())[:60].strip()
    return text or "recovered spring"


def _that_builds(spec: dict[str, Any], ends: list[EndWritten]) -> tuple[Spring, tuple[str, ...]]:
    """Return the spring of a specification, and which of its ends had to be changed to build it.

    Values found from a worn or badly seen part may lie beyond what a style can make, or let the
    wire touch itself: they are then moved toward the style's own, the end traced, or left plain.
    """
    changed: list[str] = []
    refusal = SpecError([])
    for share in (0.0, 0.03, 0.1, 0.3, 0.6, 1.0):
        try:
            return Spring.from_dict(_eased(spec, ends, share, changed)), tuple(changed)
        except SpecError as exc:
            refusal, fields = exc, [f.field for f in exc.findings]
            if any(f.startswith(("wire", "body")) for f in fields):
                raise
            for side in SIDES:
                if side not in changed and any(f.startswith(f"ends.{side}") for f in fields):
                    changed.append(side)
    for styles in (changed, ["first", "second"]):
        try:
            plain = {s: {"style": "plain"} for s in styles}
            return Spring.from_dict(spec | {"ends": spec["ends"] | plain}), tuple(styles)
        except SpecError:
            continue
    raise refusal


def _eased(
    spec: dict[str, Any], ends: list[EndWritten], share: float, changed: list[str]
) -> dict[str, Any]:
    if not share:
        return spec
    new = dict(spec["ends"])
    for side, end in zip(SIDES, ends, strict=True):
        c, data = end.found.candidate, end.found.data
        if side not in changed or end.trace is not None:
            continue
        own = c.style.shape(c.style.parameters(), data.end).as_built(c.values)
        values = {
            k: rounded(v + share * (float(own[k]) - v)) if k in own else v
            for k, v in c.values.items()
        }
        new[side] = {"style": c.style.name, **values}
    return spec | {"ends": new}


def _values(body: Body, ends: list[EndWritten], spring: Spring) -> dict[str, Value]:
    g, e = spring.model.geometry, body.errors
    least = TRUEST * g.wire_diameter
    wire, mean, pitch = (HONEST * float(k * e[i]) for k, i in ((2, 7), (2, 5), (1, 6)))
    # coils written as touching lie a wire apart, and not as measured
    pitch = math.hypot(pitch, g.pitch - body.tube.pitch)
    turned = [end.errors.get("delta", 0.0) / (2 * math.pi) for end in ends]
    coils = math.hypot(*turned, 1e-4)
    hooks = [
        end.carried("hook_length") if end.trace is None else 0.3 * g.wire_diameter for end in ends
    ]
    length = math.hypot(g.turns * pitch, g.pitch * coils, *hooks, least)

    def value(v: float, u: float, kind: str = "length") -> Value:
        return Value(v, Z95 * (math.hypot(u, least) if kind == "length" else u), kind)

    found = {
        "wire_diameter": value(g.wire_diameter, wire),
        "mean_diameter": value(2 * g.coil_radius, mean),
        "coils": value(g.turns, coils, "number"),
        "pitch": value(g.pitch, pitch),
        "gap": value(
            turn_distance(g.coil_radius, g.pitch) - g.wire_diameter, math.hypot(pitch, wire)
        ),
        "free_length": value(g.length, length),
        "wire_length": value(g.path.length, math.pi * (2 * g.coil_radius * coils + g.turns * mean)),
    }
    if g.angle is not None:
        found["angle"] = value(g.angle, 2 * math.pi * coils, "angle")
    return found


def _in_spring(shape: Shape, spring: Spring, points: Array) -> Array:
    """Return points in the frame of the spring's own centreline."""
    body, g = shape.body, spring.model.geometry
    tube = body.tube
    x = tube.local(points)
    x = x @ rotation_z(body.low)
    x[:, 2] -= tube.pitch * body.low / (2 * math.pi)
    x = x @ rotation_z(g.first.azimuth or 0.0).T
    x[:, 2] += g.first.hook_length + g.wire_diameter / 2
    return x if g.hand == "right" else x @ MIRROR


def _residual(spring: Spring, x: Array, noise: float) -> Residual:
    g = spring.model.geometry
    s, off = off_path(g.path, x, g.wire_diameter / 2)
    near = np.abs(off) < max(5 * noise, 0.15 * g.wire_diameter)
    rms = float(np.sqrt(np.mean(off[near] ** 2))) if near.any() else math.inf
    some = np.flatnonzero(near)[:: max(1, int(near.sum()) // _SHOWN)]
    order = some[np.argsort(s[some], kind="stable")]
    return Residual(rms, float(near.mean()), s[order], off[order])
