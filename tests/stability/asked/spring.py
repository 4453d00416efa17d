"""A spring drawn at random that holds its loads, for as long as its duty says; seeded."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from springgeo import Spring, Summary
from springgeo.curve import pitch_for_distance
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from springgeo.equilibrium.contact.parting import last_parts_at
from springgeo.errors import SpringgeoError
from springgeo.materials import names
from springgeo.mechanics.initial_tension import preferred_shigley
from springgeo.sizing.job.end_option import EndOption
from tests.stability.wild import Random, pick

SIZES = (0.3, 0.5, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.2, 4.0)
STYLES = tuple(x for x in registry.names() if x not in ("plain", "traced"))
PLACES = {"body": "body_shear", "hook_bending": "hook_bending", "hook_torsion": "hook_torsion"}
# how much more than the job's least margins the spring has
ROOM = 1.05
# of the load at which the last coils part, and of the initial tension
APART, OPEN = 1.05, 1.15
# least fatigue factor that a job is written for
TIRED = 0.4


@dataclass(frozen=True)
class Known:
    """A specification with its loads and duty, the options of its ends, and what it comes to.

    ``points``: lengths, mm, and loads, N, by the method of the job. ``margins`` are the lesser of
    handbook and along the wire, or the handbook's alone.
    """

    data: dict[str, Any]
    ends: tuple[EndOption, EndOption]
    method: str
    initial_tension: str
    points: list[tuple[float, float]]
    summary: Summary
    margins: dict[str, float]


def known(rng: Random, draws: int = 6) -> Known | None:
    """Return a spring and two loads that it holds with its coils apart; None if none is drawn."""
    every = (_drawn(rng) for _ in range(draws))
    return next((spring for spring in every if spring is not None), None)


def _drawn(rng: Random) -> Known | None:
    first = str(pick(rng, STYLES))
    second = first if rng.random() < 0.6 else str(pick(rng, STYLES))
    d, C = float(pick(rng, SIZES)), float(rng.uniform(5, 13))
    D = round(d * C, 3)
    ends = _option(rng, first, D / d), _option(rng, second, D / d)
    kept = "any" if rng.random() < 0.25 else "preferred"
    low, _, high = preferred_shigley(D / d)
    share = rng.uniform(-0.5, 1.2) if kept == "any" else rng.uniform(0.1, 0.7)
    data: dict[str, Any] = {
        "wire": {"material": str(pick(rng, names())), "diameter": d},
        "body": {
            "mean_diameter": D,
            "coils": float(np.round(rng.uniform(5, 50), 2)),
            "hand": str(pick(rng, ("left", "right"))),
            "initial_stress": max(float(low + share * (high - low)), 0.0),
        },
        "ends": {
            side: {"style": end.style, **end.parameters(d, D / d)}
            for side, end in zip(("first", "second"), ends, strict=True)
        },
    }
    if rng.random() < 0.4:
        data["units"] = "inch"
    method = "handbook" if rng.random() < 0.15 else "along-the-wire"
    try:
        return _used(rng, data, ends, method, kept)
    except SpringgeoError:
        return None


def _option(rng: Random, style: str, C: float) -> EndOption:
    """Return a style with proportions of its own, half the time with others of its range."""
    if rng.random() < 0.5:
        return EndOption(style)
    known_style = registry.get(style)
    ranges = known_style.ranges(BodyEnd(1.0, C / 2, pitch_for_distance(C / 2, 1.002)))
    given: dict[str, object] = {"style": style}
    for name, (low, high) in ranges.items():
        if rng.random() < 0.5:
            value = float(rng.uniform(low, high))
            sizes = {"d": 1.0, "R": C / 2}
            base = str(pick(rng, tuple(sizes)))
            given[name] = value if name == "coils" else f"{value / sizes[base]:.4f} {base}"
    return EndOption.parse(given)


def _used(
    rng: Random, data: dict[str, Any], ends: tuple[EndOption, EndOption], method: str, kept: str
) -> Known | None:
    """Return the spring with loads and a duty that it endures."""
    spring = Spring.from_dict(data)
    curve = spring.load_curve
    apart = max(APART * last_parts_at(curve), OPEN * curve.initial_tension)
    most = float(spring.summary().pull.travel_stop_load) / (float(rng.uniform(1.0, 1.3)) * ROOM)
    if most < 1.1 * apart:
        return None
    low = float(rng.uniform(apart, most / 1.05))
    loads = [low, float(rng.uniform(1.04 * low, most))]
    service = _service(rng, spring, loads)
    data = data | {"service": {"loads": loads, **service}}
    spring = Spring.from_dict(data)
    summary = spring.summary()
    if any(f.severity == "warning" for f in summary.findings if not _allowed(f.code, kept)):
        return None
    margins = margins_of(summary, method)
    if service["duty"] != "static" and margins.get("fatigue", 0.0) < TIRED:
        return None
    points = [(_length(spring, method, x), x) for x in loads]
    return Known(data, ends, method, kept, points, summary, margins)


def _allowed(code: str, kept: str) -> bool:
    """Return whether a warning is none for the job: numbers are in mm, tension as it may be."""
    return code == "bare-number" or "fatigue" in code or (kept == "any" and "tension" in code)


def _length(spring: Spring, method: str, load: float) -> float:
    if method != "handbook":
        return spring.load_curve.length(load)
    book, free = spring.along_the_wire.book, spring.free_length
    a, b = book.straight_load(1.1 * free), book.straight_load(1.2 * free)
    return 1.1 * free + (load - a) / (b - a) * 0.1 * free


def _service(rng: Random, spring: Spring, loads: list[float]) -> dict[str, Any]:
    """Return duty, temperature and forcing frequency as a specification has them."""
    duty = str(pick(rng, ("static", "static", "cyclic", "spectrum", "infinite")))
    found: dict[str, Any] = {"duty": "cyclic" if duty == "spectrum" else duty}
    if duty == "cyclic":
        found["cycles"] = float(10 ** rng.uniform(2, 8))
    if duty == "spectrum":
        found["spectrum"] = [_range(rng, spring, loads) for _ in range(int(rng.integers(1, 4)))]
    if duty != "static" and rng.random() < 0.3:
        found["peened"] = True
    if rng.random() < 0.2:
        found["temperature"] = round(float(rng.uniform(-20, 110)), 1)
    if rng.random() < 0.2:
        found["forcing_frequency"] = float(
            spring.summary().dynamics.natural_frequency_both_held / 15 / rng.uniform(1.05, 3)
        )
    return found


def _range(rng: Random, spring: Spring, loads: list[float]) -> dict[str, Any]:
    pair = sorted(float(rng.uniform(*loads)) for _ in "lh")
    count = float(10 ** rng.uniform(1, 7))
    if rng.random() < 0.5:
        return {"loads": pair, "count": count}
    return {"lengths": [spring.load_curve.length(x) for x in pair], "count": count}


def margins_of(s: Summary, method: str) -> dict[str, float]:
    """Return the least margins under the highest load, and of fatigue, by name of the job's."""
    book, wire = s.points[-1].margin, s.along_the_wire.points[-1].margin
    ways = (book,) if method == "handbook" else (book, wire)
    found = {}
    for place, name in PLACES.items():
        values = [v for v in (getattr(way, name) for way in ways) if v is not None]
        if values:
            found[place] = min(values)
    if s.fatigue is not None:
        own = [s.fatigue.handbook]
        if method != "handbook":
            own.append(s.fatigue.along_the_wire)
        factors = [p.factor for way in own for p in way.values() if p.factor is not None]
        if factors:
            found["fatigue"] = min(factors)
    return {k: v for k, v in found.items() if math.isfinite(v)}
