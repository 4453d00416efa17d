"""Numbers hardly change where the input hardly does: ``python -m tests.stability.nearby``.

Trial n is of style n modulo their number, drawn as for ``loaded``. Each of its parameters in turn
is put on an end of its stated range, and its coils on a whole number or an eighth of a turn more:
there pieces of wire and cells vanish. Beside it lies a spring that differs by 1e-9 to 1e-3 mm or
coils. Free length, wire, rates, extension, and the stress in body and hooks differ by no more than
a hundred times as much.
"""

from __future__ import annotations

import math
import random
from pathlib import Path
from typing import Any

from springgeo import Spring
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from springgeo.errors import SpringgeoError
from springgeo.summary.wire import PLACES as WIRE_PLACES

from .loaded import drawn
from .trials import another, main

# of a change, mm or coils, by what a number may change, as share of it; and what rounding leaves
# of lengths and rates, of peak stresses (searched between stations)
TIMES, ROUNDING, SEARCHED = 100.0, 3e-6, 1e-3
# of the initial tension, or N: where the springs are pulled
PULL, LEAST = 1.5, 5.0


def trial(seed: int, folder: Path) -> bool:
    """Compare the springs about every special place of one."""
    rng, data = random.Random(f"nearby {seed}"), drawn(seed)
    asked = False
    for where, at, away in places(data, seed, rng):
        change = 10.0 ** rng.uniform(-9.0, -3.0)
        another()
        try:
            there, beside = (facts(put(data, where, at + x * away)) for x in (0.0, change))
        except SpringgeoError:
            continue
        asked = True
        for name, value in there.items():
            bound = TIMES * change + (SEARCHED if name.startswith("stress") else ROUNDING)
            off = abs(beside[name] - value) / max(abs(value), 1e-9)
            told = f"{name} {value} and {beside[name]} at {where} {at} and {away * change:g} on"
            assert off <= bound, f"{told}; {data}"
    return asked


def places(
    data: dict[str, Any], seed: int, rng: random.Random
) -> list[tuple[tuple[str, ...], float, int]]:
    """Return special values: which field, its value, and on which side springs lie beside it."""
    body, end = data["body"], data["ends"]["a"]
    style = registry.get(end["style"])
    found = [
        (("body", "coils"), math.floor(body["coils"]) + rng.choice((0.0, 0.125)), side)
        for side in (1, -1)
    ]
    of = BodyEnd(1.0, body["mean_diameter"] / 2, body.get("pitch", 1.002))
    for name, (low, high) in style.ranges(of).items():
        found.append((("ends", "a", name), *rng.choice(((low, 1), (high, -1)))))
    return found


def put(data: dict[str, Any], where: tuple[str, ...], value: float) -> dict[str, Any]:
    """Return the specification with another value."""
    if len(where) == 1:
        return data | {where[0]: value}
    return data | {where[0]: put(data[where[0]], where[1:], value)}


def facts(data: dict[str, Any]) -> dict[str, float]:
    """Return numbers of a spring by name."""
    spring = Spring.from_dict(data)
    curve = spring.load_curve
    at = curve.solve(max(PULL * curve.initial_tension, LEAST))
    peaks = spring.along_the_wire.unit.peaks
    return {
        "free length": spring.free_length,
        "wire": spring.model.geometry.path.length,
        "rate": curve.rate(0.0),
        "rate under load": 1 / at.compliance,
        "extension": at.extension,
        # what is no body and no hook begins where such a piece does
        **{f"stress, {x}": peaks[x].von_mises.value for x in WIRE_PLACES if x in peaks},
    }


if __name__ == "__main__":
    main("nearby", trial)
