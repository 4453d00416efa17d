"""Every style mounted in every way: ``python -m tests.stability.mountings --count 1000``.

Trial n is of style n modulo their number, its ends within their stated ranges, 1 mm wire, of either
hand; its pins stand aside, are turned, hold the ends as they may; some lie level. Loads below and
above the initial tension, then one of the lengths found. Each state must be found. Pins and weight
balance each other in force and moment, the weight taken from the solid's own centreline (statics,
and nothing that the solver knows); pins stand where they were put; the length leads back to the
load; joints are tangent, and the wire is clear of itself or a finding says where it is not.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from springgeo import Spring
from springgeo.curve import body_approach, hook_approach
from springgeo.ends import registry
from springgeo.errors import SpringgeoError
from springgeo.state import State
from tests.ends_catalogue.checks import random_case

from .loaded import JOINT, specification, static_limit
from .trials import another, main
from .wild import Random, pick

# of the initial tension and of the static limit
BELOW, ABOVE = 0.6, (0.3, 0.7)
# of what a pin bears times coil diameter, for the shape is drawn without the stretch of its wire
# (held aside, pins bear many times the load along the line); of the load
MOMENT, FORCE = 1e-3, 1e-6
# what wire may lap unsaid, wire diameters: as coils are wound
LAP = 2.1e-3
PIECES = 4000
HOLDING = ("free", "kept", "swivelling", "held")


def trial(seed: int, folder: Path) -> bool:
    """Mount one spring and ask four states of it."""
    names, rng = registry.names(), np.random.default_rng(seed)
    case = random_case(registry.get(names[seed % len(names)]), seed // len(names))
    data = specification(case)
    try:
        limit = static_limit(Spring.from_dict(data))
        spring = Spring.from_dict(data | {"mating": mating(rng, data["body"]["mean_diameter"])})
    except SpringgeoError:
        return False
    tension = spring.load_curve.initial_tension
    loads = [share * limit for share in ABOVE]
    if 0 < tension < loads[0]:
        loads.insert(0, BELOW * tension)
    found = [_mounted(spring, data, loads=[load]) for load in loads]
    for state in found:
        require_balance(spring, state, data)
    back = _mounted(spring, data, lengths=[found[-1].length])
    assert abs(back.load / found[-1].load - 1) < FORCE, f"{back.load} from its length; {data}"
    return True


def mating(rng: Random, D: float) -> dict[str, Any]:
    """Return pins aside and turned, by a share of the coil's diameter and some degrees."""
    found: dict[str, Any] = {"offset": [float(x) for x in rng.normal(0, 0.3 * D, 2)]}
    for side in ("first", "second"):
        across = [float(rng.normal(0, 0.15)), 1.0, float(rng.normal(0, 0.15))]
        pin = {"diameter": 0.3 * D, "length": 2 * D, "direction": across}
        found[side] = {"pin": pin, "holding": str(pick(rng, HOLDING))}
    if rng.random() < 0.3:
        found["down"] = "level" if rng.random() < 0.5 else [0.3, -1.0, 0.2]
    return found


def _mounted(spring: Spring, data: dict[str, Any], **asked: Any) -> State:
    another()
    try:
        (state,) = spring.mounted(**asked)
    except SpringgeoError as exc:
        mating = spring.spec.mating
        raise AssertionError(f"no state at {asked}: {exc}; {data}; {mating}") from None
    return state


def require_balance(spring: Spring, state: State, data: dict[str, Any]) -> None:
    """Require statics of pins and weight, pins in place, and a wire that can be built."""
    g, where = state.geometry, f"at {state.load:.5g} N; {data}; {spring.spec.mating}"
    assert state.equilibrium is not None
    a, b = state.equilibrium.pins
    weight = -(a.force + b.force)
    heavy = 0.0
    if spring.spec.mating is not None and spring.spec.mating.down is not None:
        heavy = spring.summary().geometry.mass * 9.80665
    off = abs(float(np.linalg.norm(weight)) - heavy)
    assert off <= FORCE * max(state.load, heavy), f"forces off by {off} N {where}"
    at = g.path.point(np.linspace(0.0, g.path.length, PIECES + 1))
    middle = (at[1:] + at[:-1]).mean(axis=0) / 2
    # a hook is held on its wire's middle, a fitting or a cut coil where it is gripped
    on_wire = g.path.point(np.array(g.load_s))
    pins = [
        w if s is not None else c for w, c, s in zip(on_wire, g.contacts, g.contact_s, strict=True)
    ]
    moment = a.moment + b.moment + np.cross(pins[1] - pins[0], b.force)
    moment += np.cross(middle - pins[0], weight)
    borne = max(float(np.linalg.norm(pin.force)) for pin in (a, b))
    size = float(np.linalg.norm(moment)) / (borne * 2 * g.coil_radius)
    assert size <= MOMENT, f"moments off by {size} of force times diameter {where}"
    assert g.path.joint_angles().max(initial=0.0) <= JOINT, f"joint {where}"
    told = "wire-in-itself" in [f.code for f in state.findings]
    for near in (body_approach(g.path), hook_approach(g.path, 1.0)):
        clear = near is None or near.distance >= 1.0 - LAP
        assert clear or told, f"wire {near} {where}"


if __name__ == "__main__":
    main("mountings", trial)
