"""Every style under load: ``python -m tests.stability.loaded --count 4600``.

Trial n is of style n modulo their number, its ends within their stated ranges, 1 mm wire. Three
loads, the last the static limit: the least at which a place along the wire reaches its allowable.
Each state must be found, longer than the one before, its joints tangent, and its wire clear of
itself.
"""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

from springgeo import Spring
from springgeo.curve import body_approach, hook_approach
from springgeo.ends import registry
from springgeo.errors import SpringgeoError
from tests.ends_catalogue.checks import Case, random_case

from .trials import another, main

# of the static limit
SHARES = (0.3, 0.7, 1.0)
# rad; and by how much of a wire diameter wire may lap
JOINT, LAP = 1e-6, 1e-4


def trial(seed: int, folder: Path) -> bool:
    """Load one spring three times."""
    data = drawn(seed)
    try:
        spring = Spring.from_dict(data)
    except SpringgeoError:
        return False
    limit, before = static_limit(spring), spring.free_length
    for share in SHARES:
        another()
        try:
            state = spring.at(load=share * limit)
        except SpringgeoError as exc:
            raise AssertionError(f"no state at {share} of {limit:.5g} N: {exc}; {data}") from None
        where = f"at {share} of {limit:.5g} N; {data}"
        assert state.length > before, f"shorter, {state.length} after {before}, {where}"
        before, path = state.length, state.geometry.path
        assert path.joint_angles().max(initial=0.0) <= JOINT, f"joint {where}"
        assert path.joint_gaps().max(initial=0.0) <= JOINT, f"gap {where}"
        for near in (body_approach(path), hook_approach(path, 1.0)):
            clear = near is None or near.distance >= 1.0 - LAP
            assert clear, f"wire {near} {where}"
    return True


def drawn(seed: int) -> dict[str, Any]:
    """Return the specification of a trial."""
    names = registry.names()
    return specification(random_case(registry.get(names[seed % len(names)]), seed // len(names)))


def static_limit(spring: Spring) -> float:
    """Return the static limit along the wire, N, from below; of the drawn shape first."""
    wire = spring.along_the_wire
    load = 1e3 / max(peaks.von_mises.value for peaks in wire.unit.peaks.values())
    load = min(load, 0.4 * spring.load_curve.balance.most)
    for _ in range(3):
        another()
        margins = [m for _, m in wire.stressed(load).margin if m is not None]
        load *= min(min(margins), 3.0)
        if 0.99 <= min(margins) <= 1.01:
            break
    return load


def specification(case: Case) -> dict[str, Any]:
    """Return the spring of a case, as large as its wire is 1 mm thick."""
    d = case.body.wire_diameter

    def end(k: int) -> dict[str, Any]:
        return {"style": case.styles[k].name, **{n: v / d for n, v in case.given[k].items()}}

    wound: dict[str, Any] = {
        "mean_diameter": 2 * case.body.coil_radius / d,
        "coils": case.turns,
        "hand": case.hand,
    }
    if case.body.pitch > 1.04 * d:
        wound["pitch"] = case.body.pitch / d
    else:  # within and about the preferred range
        share = random.Random(f"loaded {case.turns}").uniform(0.2, 1.2)
        wound["initial_stress"] = share * 600.0 * d / case.body.coil_radius
    return {
        "name": "trial",
        "wire": {"material": "en-10270-1-sm", "diameter": 1.0},
        "body": wound,
        "ends": {"a": end(0), "b": end(1)},
    }


if __name__ == "__main__":
    main("loaded", trial)
