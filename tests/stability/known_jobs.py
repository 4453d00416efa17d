"""Jobs that a spring is known to do: ``python -m tests.stability.known_jobs --count 200``.

A spring is drawn that holds its loads; the job asks for two of its loads at the lengths that its
load curve gives, of the same wire and ends, in a room that it fits. The search must find springs,
and what it finds must do the job on its own load curve.
"""

from __future__ import annotations

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
# ends that a spring of any proportions has, and none that is drawn point by point
_LEFT_OUT = "plain", "traced"


def trial(seed: int, folder: Path) -> bool:
    """Ask for a spring that there is."""
    rng = np.random.default_rng([7, seed])
    found = _known(rng)
    if found is None:
        return False
    data, loads = found
    spring = Spring.from_dict(data)
    points = [{"length": spring.load_curve.length(x), "load": x} for x in loads]
    style = [end["style"] for end in data["ends"].values() if isinstance(end, dict)]
    asked = {
        "points": [p | {"tolerance": TOLERANCE} for p in points],
        "envelope": {"outer_diameter": 1.02 * float(spring.summary().geometry.outer_diameter)},
        "choice": {
            "materials": [data["wire"]["material"]],
            "wire_sizes": [data["wire"]["diameter"]],
            "ends": list(dict.fromkeys(style)),
            "mixed_ends": len(set(style)) > 1,
        },
        "objectives": [str(pick(rng, ("mass", "margin", "free_length", "envelope")))],
    }
    another()
    result = size(job_of(asked), 2)
    why = [*result.turned_away, *(r.text for r in result.why_not)]
    assert result.winners, f"nothing found: {why}; {data}, {asked}"
    for w in result.winners:
        another()
        own = Spring.from_dict(w.specification)
        for p in points:
            off = own.load_curve.load(p["length"]) / p["load"] - 1
            assert abs(off) <= TOLERANCE, f"{off:.3g} off at {p}; {w.specification}, {asked}"
        verdict = own.summary().verdict
        assert verdict is not None
        assert verdict.outcome != "fails", f"{verdict.words}; {asked}"
    return True


def _known(rng: Random) -> tuple[dict[str, Any], list[float]] | None:
    """Return a spring and two loads that it holds with its coils apart; None if it is none."""
    styles = [x for x in registry.names() if x not in _LEFT_OUT]
    first = str(pick(rng, styles))
    second = first if rng.random() < 0.7 else str(pick(rng, styles))
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
