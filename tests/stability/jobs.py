"""Random sizing jobs, sensible and spoilt: ``python -m tests.stability.jobs --count 2000``."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.ends import registry
from springgeo.materials import names
from springgeo.sizing import job_of, read_job, size
from springgeo.sizing.answer.report import json_text

from .trials import main, require_finite
from .wild import Random, as_yaml, pick, spoilt

OBJECTIVES = (
    "mass",
    "envelope",
    "margin",
    "cost",
    "free_length",
    "natural_frequency",
    "in_tolerance",
)


def job(rng: Random) -> dict[str, Any]:
    """Return a job that a random spring might fulfil, or nearly."""
    d, C, coils = rng.uniform(0.3, 4), rng.uniform(4.5, 13), rng.uniform(4, 60)
    k = 80000 * d / (8 * C**3 * coils)
    free, top = d * (coils + 1 + 2 * C), rng.uniform(0.1, 0.6) * 1500 * np.pi * d * d / (8 * C)
    first, travel = rng.uniform(0.2, 0.9) * top, (1 - rng.uniform(0.1, 0.5)) * top / k
    data: dict[str, Any] = {
        "choice": {
            "materials": list(rng.choice(names(), 2, replace=False)),
            "series": [str(pick(rng, ("en-iso", "metric-preferred")))],
            "ends": list(rng.choice(registry.names(), 2, replace=False)),
            "mixed_ends": bool(rng.random() < 0.2),
        },
        "objectives": list(rng.choice(OBJECTIVES, int(rng.integers(1, 4)), replace=False)),
        "method": str(pick(rng, ("handbook", "along-the-wire"))),
        "service": dict(
            pick(rng, ({}, {"duty": "infinite"}, {"duty": "cyclic", "cycles": 1e5, "peened": True}))
        ),
        "apart": float(pick(rng, (0, 0.05, 0.3))),
    }
    if rng.random() < 0.4:
        data["envelope"] = {"outer_diameter": d * (C + 1) * rng.uniform(0.7, 2)}
    if rng.random() < 0.3:
        data["initial_tension"] = "any"
    need = rng.random()
    if need < 0.5:
        points = [(free + travel / 3, first), (free + travel, first + k * travel * 2 / 3)]
        data["points"] = [{"length": x, "load": f, "tolerance": 0.1} for x, f in points]
        data["use_tolerance"] = float(pick(rng, (0, 0, 0.5)))
    elif need < 0.65:
        data["installed"] = {"length": free * 1.1, "load": first, "rate": k, "travel": travel}
    elif need < 0.85:
        data["energy"] = {"lengths": [free * 1.1, free * 1.1 + travel], "energy": first * travel}
    else:
        data["lever"] = {
            "arm": free / 2,
            "base": free,
            "angles": ["60 deg", "90 deg"],
            "torques": [first * free / 3, first * free / 2],
            "tolerance": 0.3,
        }
    return json.loads(json.dumps(data))  # type: ignore[no-any-return]


def trial(seed: int, folder: Path) -> bool:
    """Size one job; every number of the answer must be one."""
    rng = np.random.default_rng([1, seed])
    data = job(rng)
    if seed % 2:
        data = spoilt(rng, data)
    if seed % 3:
        found = job_of(data)
    else:
        path = folder / "job.yaml"
        path.write_text(as_yaml(rng, data), encoding="utf-8")
        found = read_job(path)
    result = size(found, int(rng.integers(1, 4)))
    require_finite(json.loads(json_text(result)))
    return bool(result.winners)


if __name__ == "__main__":
    main("jobs", trial)
