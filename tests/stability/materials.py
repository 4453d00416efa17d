"""Random material files, sensible and spoilt: ``python -m tests.stability.materials``."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from springgeo import Spring, materials

from .trials import main, require_finite
from .wild import Random, as_yaml, pick, spoilt

CYCLES = (None, 1e5)


def material(rng: Random) -> tuple[dict[str, Any], tuple[float, float]]:
    """Return the content of a known material, a little changed, and its range of sizes, mm."""
    chosen = materials.get(pick(rng, materials.names()))
    known: dict[str, Any] = json.loads(json.dumps(chosen.content))
    known["id"] = "mine"
    for block in ("density_g_cm3", "temperature_limit_degC", "static_en"):
        if isinstance(known.get(block), dict):
            known[block]["value"] *= float(rng.uniform(0.95, 1.05))
    low, high = chosen.diameter_range
    return known, (low, high) if low > 0 else (0.3, 3.0)


def trial(seed: int, folder: Path) -> bool:
    """Make a spring of the material and take its summary; every number must be one."""
    rng = np.random.default_rng([4, seed])
    data, sizes = material(rng)
    if seed % 4:
        data = spoilt(rng, data, 4)
    d = float(np.exp(rng.uniform(*np.log(sizes))))
    path = folder / "mine.yaml"
    path.write_text(as_yaml(rng, data), encoding="utf-8", errors="replace")
    cycles = pick(rng, CYCLES)
    duty = {} if cycles is None else {"duty": "cyclic", "cycles": cycles}
    spring = Spring.from_dict(
        {
            "wire": {"material": str(path), "diameter": d},
            "body": {"index": float(rng.uniform(5, 12)), "coils": 10, "initial_stress": 50},
            "ends": {"first": {"style": "raised-hook"}, "second": {"style": "machine-half-loop"}},
            "service": {"loads": [1, 5], "temperature": float(rng.uniform(-30, 130)), **duty},
        }
    )
    text = spring.summary().json_text()
    require_finite(json.loads(text))
    assert str(folder) not in text, "the path of the file is in the summary"
    again = Spring.from_dict(json.loads(text)["specification"]).summary().json_text()
    assert again == text, "the stored specification gives another summary"
    return True


if __name__ == "__main__":
    main("materials", trial)
