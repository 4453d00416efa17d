"""Random mating sections, sensible and spoilt: ``python -m tests.stability.mating``."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from springgeo import Spring
from springgeo.ends import registry
from springgeo.fit import fit

from .trials import main, require_finite
from .wild import Random, pick, spoilt


def part(rng: Random, inside: float) -> dict[str, Any]:
    """Return a pin, a plate or a stud for a loop of this inside diameter, mm."""
    size = float(inside * rng.uniform(0.1, 1.3))
    what = rng.random()
    if what < 0.5:
        pin: dict[str, Any] = {"diameter": size, "length": float(rng.uniform(0.5, 4) * inside)}
        if rng.random() < 0.3:
            pin["direction"] = [float(x) for x in rng.normal(0, 1, 3) * (1, 1, 0.3)]
        return {"pin": pin}
    if what < 0.75:
        thickness = float(rng.uniform(0.05, 0.8) * inside)
        return {
            "plate": {
                "hole_diameter": size,
                "thickness": thickness,
                "edge_distance": float(size * rng.uniform(0.4, 2)),
            }
        }
    return {
        "stud": {
            "diameter": float(size * rng.uniform(0.9, 2)),
            "groove_diameter": size,
            "groove_width": float(rng.uniform(0.05, 1) * inside),
            "length": float(rng.uniform(0.5, 3) * inside),
        }
    }


def specification(rng: Random) -> dict[str, Any]:
    """Return a spring between mating parts of about its size."""
    d, C = float(rng.uniform(0.3, 4)), float(rng.uniform(4.5, 13))
    inside = d * (C - 1)
    mating: dict[str, Any] = {
        s: part(rng, inside) for s in ("first", "second") if rng.random() < 0.8
    }
    if rng.random() < 0.3:
        mating["around"] = {"bore": {"diameter": float(d * (C + 1) * rng.uniform(0.9, 1.3))}}
    if rng.random() < 0.2:
        mating.setdefault("around", {})["rod"] = {"diameter": float(inside * rng.uniform(0.3, 1.1))}
    if rng.random() < 0.3:
        mating["play"] = float(rng.uniform(0, 3) * d)
    if rng.random() < 0.3:
        mating["over_travel"] = float(rng.uniform(0, 10) * d)
    for side in sorted({"first", "second"} & mating.keys()):
        if rng.random() < 0.3:
            mating[side]["holding"] = str(pick(rng, ("free", "kept", "swivelling", "held")))
    if rng.random() < 0.3:
        mating["offset"] = [float(x) for x in rng.normal(0, 2 * d, 2)]
    if rng.random() < 0.2:
        mating["down"] = "level" if rng.random() < 0.5 else [0.3, -1.0, 0.2]
    top = float(rng.uniform(0.05, 0.7) * 1500 * np.pi * d * d / (8 * C))
    service = {"loads": [float(rng.uniform(0, 1)) * top, top]} if rng.random() < 0.8 else {}
    return {
        "wire": {"diameter": d},
        "body": {
            "index": C,
            "coils": float(rng.uniform(3, 25)),
            "hand": str(pick(rng, ("left", "right"))),
            "initial_stress": float(rng.uniform(0, 120)),
        },
        "ends": {s: {"style": str(pick(rng, registry.names()))} for s in ("first", "second")},
        "service": service,
        "mating": mating,
    }


def trial(seed: int, folder: Path) -> bool:
    """Fit the spring in three states; every number of the report must be one."""
    rng = np.random.default_rng([5, seed])
    data = specification(rng)
    if seed % 2:
        data["mating"] = spoilt(rng, data["mating"]) if data["mating"] else {"first": 1}
    found = fit(Spring.from_dict(data), states=3)
    require_finite(json.loads(found.model_dump_json()))
    return True


if __name__ == "__main__":
    main("mating", trial)
