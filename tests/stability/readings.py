"""Random readings of springs, sensible and spoilt: ``python -m tests.stability.readings``."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.ends import registry
from springgeo.measure import measure, read_readings

from .trials import main, require_finite
from .wild import Random, as_yaml, garbled, pick, spoilt


def readings(rng: Random) -> dict[str, Any]:
    """Return readings of a spring of random size, with errors of reading."""
    d, C, coils = rng.uniform(0.2, 6), rng.uniform(3.5, 15), rng.uniform(3, 80)
    k = 80000 * d / (8 * C**3 * coils)
    free = d * (coils + 1 + 2 * C)
    force = rng.uniform(0, 0.3) * 500 * np.pi * d * d / (8 * C)
    travel = np.sort(rng.uniform(-0.1, 1.5, int(rng.integers(3, 12)))) * free
    noise = rng.normal(0, 0.01, len(travel))
    data: dict[str, Any] = {
        "wire_diameter": [float(d * (1 + rng.normal(0, 0.01))) for _ in range(3)],
        "outer_diameter": float(d * (C + 1)),
        "coils": float(coils),
        "free_length": float(free),
        "pulls": [
            {"length": float(free + x), "load": float((force + k * x) * (1 + e))}
            for x, e in zip(travel, noise, strict=True)
            if force + k * x > 0
        ],
        "hooks": [{"style": str(pick(rng, registry.names()))} for _ in range(2)],
    }
    if rng.random() < 0.3:
        data["body_length"] = float(d * (coils + 1) * rng.uniform(0.9, 1.3))
    if rng.random() < 0.3:
        data["material"] = str(pick(rng, ("astm-a228", "music wire", "astm-b159")))
    return data


def as_csv(rng: Random, data: dict[str, Any]) -> str:
    """Return readings as a table of keywords."""
    apart = str(pick(rng, (",", ";", "\t")))
    lines = []
    for key, value in data.items():
        if key == "pulls" and isinstance(value, list):
            for p in value:
                cells = p.values() if isinstance(p, dict) else [p]
                lines.append(apart.join(map(str, ["pull", *cells])))
        elif key == "hooks" and isinstance(value, list):
            names = [h.get("style", "") if isinstance(h, dict) else h for h in value]
            lines.append(apart.join(map(str, [key, *names])))
        else:
            cells = value if isinstance(value, list) else [value]
            lines.append(apart.join(map(str, [key, *cells])))
    return garbled(rng, "\n".join(lines))


def trial(seed: int, folder: Path) -> bool:
    """Find the spring behind the readings; every number of the answer must be one."""
    rng = np.random.default_rng([2, seed])
    data = readings(rng)
    if seed % 2:
        data = spoilt(rng, data)
    path = folder / ("readings.csv" if seed % 3 == 0 else "readings.yaml")
    text = as_csv(rng, data) if seed % 3 == 0 else as_yaml(rng, data)
    path.write_text(text, encoding="utf-8", errors="replace")
    found = measure(read_readings(path))
    numbers = asdict(found)
    numbers.pop("findings")
    numbers["line"] = {k: v for k, v in found.line._asdict().items() if k != "used"}
    require_finite({k: _plain(v) for k, v in numbers.items()})
    return True


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    return [_plain(v) for v in value] if isinstance(value, list | tuple) else value


if __name__ == "__main__":
    main("readings", trial)
