"""Jobs that a spring is known to do: ``python -m tests.stability.known_jobs --count 200``.

A spring is drawn that holds its loads; the job asks for two of its loads at the lengths that its
load curve gives, said in any of the ways of a job, of the same wire and ends, perhaps among others,
in a room that it fits. The search must find springs, and what it finds must do the job on its own
load curve.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np

from springgeo import Spring
from springgeo.ends import registry
from springgeo.equilibrium.parting import last_parts_at
from springgeo.errors import SpringgeoError
from springgeo.materials import names
from springgeo.mechanics.initial_tension import preferred_shigley
from springgeo.sizing import job_of, size

from .trials import another, main
from .wild import Random, pick

SIZES = (0.3, 0.5, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.2, 4.0)
# what the trade allows a load, and how much more than the job's least margins the spring has
TOLERANCE, ROOM = 0.05, 1.05
# of the load at which the last coils part, and of the initial tension
APART, OPEN = 1.05, 1.15
# of the energy, which the trade gives no tolerance
WORK = 0.01
STYLES = tuple(x for x in registry.names() if x not in ("plain", "traced"))


def trial(seed: int, folder: Path) -> bool:
    """Ask for a spring that there is."""
    rng = np.random.default_rng([7, seed])
    found = known(rng)
    if found is None:
        return False
    data, loads = found
    spring = Spring.from_dict(data)
    points = [(spring.load_curve.length(x), x) for x in loads]
    outer = float(spring.summary().geometry.outer_diameter)
    asked = {
        **need(rng, points),
        "envelope": {"outer_diameter": 1.02 * outer},
        "choice": choice(rng, data),
        "objectives": [str(pick(rng, ("mass", "margin", "free_length", "envelope")))],
    }
    another()
    result = size(job_of(asked), 2)
    why = [*result.turned_away, *(r.text for r in result.why_not)]
    assert result.winners, f"nothing found: {why}; {data}, {asked}"
    for w in result.winners:
        another()
        own = Spring.from_dict(w.specification)
        _require(own, asked, points)
        verdict = own.summary().verdict
        assert verdict is not None
        assert verdict.outcome != "fails", f"{verdict.words}; {asked}"
        assert own.summary().geometry.outer_diameter <= 1.02 * outer * (1 + 1e-9), asked
    return True


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


def choice(rng: Random, data: dict[str, Any]) -> dict[str, Any]:
    """Return the spring's own wire and ends, half the time among others."""
    own = [end["style"] for end in data["ends"].values()]
    wires, sizes, ends = [data["wire"]["material"]], [data["wire"]["diameter"]], own
    if rng.random() < 0.5:
        wires, sizes = [*wires, str(pick(rng, names()))], [*sizes, float(pick(rng, SIZES))]
        ends = [*ends, str(pick(rng, STYLES))]
    return {
        "materials": list(dict.fromkeys(wires)),
        "wire_sizes": sorted(set(sizes)),
        "ends": list(dict.fromkeys(ends)),
        "mixed_ends": len(set(own)) > 1,
    }


def _require(own: Spring, asked: dict[str, Any], points: list[tuple[float, float]]) -> None:
    """Require that a spring does on its load curve what was asked."""
    loads = [own.load_curve.load(x) for x, _ in points]
    if "energy" in asked:
        (low, _), (high, _) = points
        off = sum(loads) / 2 * (high - low) / asked["energy"]["energy"] - 1
        assert abs(off) <= WORK, f"{off:.3g} of the energy off; {own.spec}, {asked}"
        return
    for load, (length, wanted) in zip(loads, points, strict=True):
        off = load / wanted - 1
        assert abs(off) <= TOLERANCE, f"{off:.3g} off at {length}; {own.spec}, {asked}"


def known(rng: Random) -> tuple[dict[str, Any], list[float]] | None:
    """Return a spring and two loads that it holds with its coils apart; None if it is none."""
    first = str(pick(rng, STYLES))
    second = first if rng.random() < 0.7 else str(pick(rng, STYLES))
    d, C = float(pick(rng, SIZES)), float(rng.uniform(5, 13))
    tension = preferred_shigley(C)
    share = float(rng.uniform(0.1, 0.7))
    data: dict[str, Any] = {
        "wire": {"material": str(pick(rng, names())), "diameter": d},
        "body": {
            "mean_diameter": round(d * C, 3),
            "coils": float(np.round(rng.uniform(5, 50), 2)),
            "hand": str(pick(rng, ("left", "right"))),
            "initial_stress": float(tension.low + share * (tension.high - tension.low)),
        },
        "ends": {"first": {"style": first}, "second": {"style": second}},
    }
    try:
        spring = Spring.from_dict(data)
        curve = spring.load_curve
        apart = max(APART * last_parts_at(curve), OPEN * curve.initial_tension)
        most = _most(spring) / (1.2 * ROOM)
        if most < 1.1 * apart:
            return None
        low = float(rng.uniform(apart, most / 1.05))
        loads = [low, float(rng.uniform(1.04 * low, most))]
        with_loads = data | {"service": {"loads": loads}}
        if any(f.severity == "warning" for f in Spring.from_dict(with_loads).summary().findings):
            return None
    except SpringgeoError:
        return None
    return data, loads


def _most(spring: Spring) -> float:
    """Return the load at which the least margin of both methods is one, N."""
    pull = spring.summary().pull
    return float(pull.travel_stop_load)


if __name__ == "__main__":
    main("known_jobs", trial)
