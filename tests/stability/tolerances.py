"""Random springs made to random tolerances: ``python -m tests.stability.tolerances``.

Each is refused by name, or answered: every number is one, shares lie from 0 to 1, what strays more
is not held better, and the nominal spring is the summary's.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np

from springgeo import SpecError, Spring

from .drawn import specification
from .trials import main, require_finite

LENGTHS = ("wire_diameter", "coil_diameter", "free_length", "hook_length", "bend_radius")
SHARES = ("initial_tension", "shear_modulus", "tensile_strength", "rate")
ABSURD = (0, -1, 1e9, 1e-9, "nan", "12", "50 %", [1, 2], "-1..2", None, "1 mm..-1 mm", True)


def trial(seed: int, folder: Path) -> bool:
    """Ask one spring how it comes out."""
    rng = np.random.default_rng([11, seed])
    spring = _spring(rng)
    asked = _tolerances(rng, absurd=seed % 3 == 1)
    found = spring.tolerance(asked, springs=1 << 10)
    require_finite(json.loads(found.json_text()))
    assert 0 <= found.inside <= 1
    assert 0 <= found.impossible < found.springs
    for x in found.spreads:
        assert x.inside is None or 0 <= x.inside <= 1
        assert x.low <= x.high
    points = spring.along_the_wire.book.points
    for x in found.spreads:
        if x.quantity == "load" and x.number is not None:
            near = math.isclose(x.nominal, points[x.number - 1].load, rel_tol=1e-6)
            assert near, "the nominal load is another"
    return True


def _spring(rng: np.random.Generator) -> Spring:
    """Return a random spring that can be made."""
    for _ in range(50):
        try:
            return Spring.from_dict(specification(rng))
        except SpecError:
            continue
    raise AssertionError("none of fifty springs can be made")


def _tolerances(rng: np.random.Generator, *, absurd: bool) -> dict[str, Any]:
    """Return some of the keys with values, one in six of them nonsense if it is to be so."""
    kinds = ["none", "coils", "initial-tension", "mean-diameter", "free-length"]
    values: dict[str, Any] = {
        **{name: f"{10 ** rng.uniform(-3, 0):.4g} %" for name in LENGTHS},
        **{name: f"{10 ** rng.uniform(-2, 1.3):.3g} %" for name in SHARES},
        "coils": float(10 ** rng.uniform(-3, 0)),
        "share": float(rng.uniform(0.1, 0.999)),
        "distribution": "uniform",
        "adjusts": str(rng.choice(kinds)),
        "loads": "7 %",
    }
    found = {name: value for name, value in values.items() if rng.random() < 0.3}
    for name in [*found, "coils", "loads", "grade"] if absurd else ():
        if rng.random() < 1 / 6:
            found[name] = ABSURD[int(rng.integers(len(ABSURD)))]
    return found


if __name__ == "__main__":
    main("tolerances", trial)
