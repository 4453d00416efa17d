"""The job that a known spring does, said in any of the ways of a job and in either units."""

from __future__ import annotations

import copy
import math
from typing import Any

from springgeo.materials import get, names
from springgeo.units import FACTORS
from tests.stability.wild import Random, pick

from .spring import ROOM, SIZES, STYLES, Known

# what the trade allows a load, and an energy
TOLERANCE, WORK = 0.05, 0.01
_IN, _LBF = FACTORS["length"]["in"], FACTORS["force"]["lbf"]
# what a number of a job is, by its key: its unit in the inch trade, and that in mm and N
_UNITS = {
    **dict.fromkeys(
        ("length", "lengths", "travel", "arm", "base", "wire_sizes", "outer_diameter"), "in"
    ),
    **dict.fromkeys(("rod_diameter", "free_length", "hook_a", "hook_b"), "in"),
    **dict.fromkeys(("load", "loads"), "lbf"),
    "rate": "lbf/in",
    "energy": "lbf in",
    "torques": "lbf in",
    "temperature": "degF",
}
_WORTH = {"in": _IN, "lbf": _LBF, "lbf/in": _LBF / _IN, "lbf in": _LBF * _IN}


def job(rng: Random, k: Known) -> dict[str, Any]:
    """Return the job, in mm and N: loads at lengths, room, least margins, wires and ends."""
    asked: dict[str, Any] = {
        **need(rng, k.points),
        "choice": choice(rng, k),
        "envelope": room(rng, k),
        "least": least(rng, k),
        "service": {x: v for x, v in k.data["service"].items() if x != "loads"},
        "method": k.method,
        "initial_tension": k.initial_tension,
        "objectives": objectives(rng, k),
    }
    if "energy" not in asked and rng.random() < 0.4:
        asked["use_tolerance"] = float(pick(rng, (0.25, 0.5, 1.0)))
    if k.data.get("units") == "inch":
        asked["units"] = "inch"
    return asked


def need(rng: Random, points: list[tuple[float, float]]) -> dict[str, Any]:
    """Return two loads at lengths as a job may ask for them."""
    (low, first), (high, last) = points
    kind = str(pick(rng, ("points", "points", "installed", "energy", "lever")))
    if kind == "installed":
        k = (last - first) / (high - low)
        return {kind: {"length": low, "load": first, "rate": k, "travel": high - low}}
    if kind == "energy":
        return {kind: {"lengths": [low, high], "energy": (first + last) / 2 * (high - low)}}
    if kind == "points":
        both = [{"length": x, "load": f, "tolerance": TOLERANCE} for x, f in points]
        return {kind: both}
    # the pivot stands so that the spring is square to neither arm
    a, b = 0.7 * low, 0.8 * low
    angles = [math.acos((a * a + b * b - x * x) / (2 * a * b)) for x, _ in points if x < a + b]
    if len(angles) < 2:
        return {"points": [{"length": x, "load": f} for x, f in points]}
    pulls = zip(points, angles, strict=True)
    torques = [f * a * b * math.sin(angle) / x for (x, f), angle in pulls]
    degrees = [f"{math.degrees(x)!r} deg" for x in angles]
    return {kind: {"arm": a, "base": b, "angles": degrees, "torques": torques}}


def choice(rng: Random, k: Known) -> dict[str, Any]:
    """Return the spring's own wire and ends, half the time among others, in any order."""
    own: list[Any] = [end.written() for end in k.ends]
    wires, sizes, ends = [k.data["wire"]["material"]], [k.data["wire"]["diameter"]], own
    if rng.random() < 0.5:
        wires, sizes = [*wires, str(pick(rng, names()))], [*sizes, float(pick(rng, SIZES))]
        ends = [*ends, str(pick(rng, STYLES))]
    ends = [end for n, end in enumerate(ends) if end not in ends[:n]]
    if rng.random() < 0.5:
        ends.reverse()
    return {
        "materials": list(dict.fromkeys(wires)),
        "wire_sizes": sorted(set(sizes)),
        "ends": ends,
        "mixed_ends": own[0] != own[1] or bool(rng.random() < 0.2),
    }


def room(rng: Random, k: Known) -> dict[str, float]:
    """Return the room of a job: a fiftieth more than the spring takes."""
    g, more = k.summary.geometry, 1.02
    found = {"outer_diameter": more * g.outer_diameter}
    if rng.random() < 0.4:
        found["free_length"] = more * g.free_length
    if rng.random() < 0.3:
        found["hook_a"] = more * g.hook_length_first
    if rng.random() < 0.3:
        found["hook_b"] = more * g.hook_length_second
    if rng.random() < 0.3:
        found["rod_diameter"] = g.inner_diameter / more
    return {name: value for name, value in found.items() if value > 0}


def least(rng: Random, k: Known) -> dict[str, float]:
    """Return least margins: as the spring has them less some room, or little."""
    found = {}
    for name in ("body", "hook_bending", "hook_torsion", "fatigue"):
        own = k.margins.get(name, 100.0) / ROOM
        found[name] = own if rng.random() < 0.2 else min(own, float(rng.uniform(0.9, 1.3)))
    return found


def objectives(rng: Random, k: Known) -> list[str]:
    """Return one to three objectives; cost where the wire's is known."""
    every = ["mass", "margin", "free_length", "envelope", "natural_frequency"]
    if get(k.data["wire"]["material"]).relative_cost is not None:
        every.append("cost")
    if rng.random() < 0.1:
        every.append("in_tolerance")
    return [str(x) for x in rng.choice(every, int(rng.integers(1, 4)), replace=False)]


def in_inch(asked: dict[str, Any]) -> dict[str, Any]:
    """Return a job with every quantity written in the units of the inch trade."""
    found: dict[str, Any] = _written(copy.deepcopy(asked), "")
    return found


def as_asked(asked: dict[str, Any]) -> dict[str, Any]:
    """Return a job as its author would write it: in its own units."""
    return in_inch(asked) if asked.get("units") == "inch" else asked


def _written(value: Any, key: str) -> Any:
    if isinstance(value, dict):
        return {k: _written(v, k) for k, v in value.items()}
    if isinstance(value, list):
        return [_written(v, key) for v in value]
    unit = _UNITS.get(key)
    if unit is None or isinstance(value, str):
        return value
    if unit == "degF":
        return f"{value * 1.8 + 32!r} degF"
    return f"{value / _WORTH[unit]!r} {unit}"
