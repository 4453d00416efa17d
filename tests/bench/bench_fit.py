"""Fit of a 50-coil spring: a sweep of 200 states over all pairs, and queries beside the kernel's.

Run ``python tests/bench/bench_fit.py``. A state costs what a user pays: ``Spring.at`` for each, or
``Spring.states`` for all of a spring of which nothing is known; both pins against hook and body,
bore, rod, mouth, swing, hold, wire in itself, findings. The kernel answers the same pins by its
extrema, in the same process. Its search stops early now and then (tests/fit/test_kernel.py
proves it by a point on the wire): leaves with 1 if it ever finds less than ours by 1e-4 mm.
CPU seconds, so that a busy machine counts little.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import numpy as np

from springgeo import Spring, cad
from springgeo.fit import (
    Around,
    Bore,
    Cylinder,
    EndMate,
    Mating,
    Pin,
    Rod,
    Wire,
    clearance,
    state_fit,
)
from springgeo.state import State

COILS, STATES, PINS, REPEAT, BOUND = 50, 200, 12, 50, 1e-4
STYLES = ("machine-half-loop", "full-twisted-loop", "short-twisted-loop", "english-loop")
PIN = EndMate(pin=Pin(diameter=3, length=20))
MATING = Mating(first=PIN, second=PIN, around=Around(bore=Bore(diameter=13), rod=Rod(diameter=7)))


def spring(style: str) -> Spring:
    """Return coils with the same end on both sides."""
    return Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": COILS},
            "ends": {"first": {"style": style}, "second": {"style": style}},
            "service": {"loads": [25, 40]},
        }
    )


def seconds(call: Callable[[], object]) -> float:
    """Return the CPU seconds of a call."""
    start = time.process_time()
    call()
    return time.process_time() - start


def sweep(style: str) -> tuple[float, float, float]:
    """Return CPU seconds of making states one by one, of making them at once, of fitting them."""
    made = spring(style)
    made.summary()
    lengths = (np.linspace(1.0, 1.4, STATES) * made.free_length).tolist()
    states: list[State] = []
    one_by_one = seconds(lambda: [made.at(length=x) for x in lengths])
    at_once = seconds(lambda: states.extend(spring(style).states(lengths=lengths)))
    return one_by_one, at_once, seconds(lambda: [state_fit(s, MATING) for s in states])


def queries() -> tuple[float, float, list[float]]:
    """Return CPU seconds of a query by us and by the kernel, and kernel less ours, mm."""
    made = spring("machine-half-loop")
    state = made.at(length=1.1 * made.free_length)
    wire = Wire.of(state.geometry.path, state.geometry.wire_diameter)  # once, as the solid is
    solid, rng = state.solid(), np.random.default_rng(1)
    ours = theirs = 0.0
    beyond: list[float] = []
    while len(beyond) < PINS:
        axis = rng.normal(size=3)
        place = rng.uniform((-9, -9, -4), (9, 9, state.length + 4))
        pin = Cylinder(place, axis / np.linalg.norm(axis), float(rng.uniform(0.5, 2)), 12.0)
        own = clearance(wire, pin).distance
        if own <= 0:
            continue
        ours += seconds(lambda p=pin: [clearance(wire, p) for _ in range(REPEAT)]) / REPEAT
        other, found = cad.part_solid(pin), []
        theirs += seconds(lambda o=other, f=found: f.append(cad.kernel_clearance(solid, o)))
        beyond.append(found[0] - own)
    return ours / PINS, theirs / PINS, beyond


def main() -> int:
    """Print both tables; return 1 where the answers differ."""
    print(f"{STATES} states, {COILS} coils   one by one  at once      fit  at once and fit, CPU s")
    for style in STYLES:
        one_by_one, at_once, fitting = sweep(style)
        print(
            f"{style:24} {one_by_one:11.3f} {at_once:8.3f} {fitting:8.3f} {at_once + fitting:9.3f}"
        )
    ours, theirs, beyond = queries()
    same = [x for x in beyond if abs(x) <= BOUND]
    print(f"one query               {1e3 * ours:10.3f} ms")
    print(f"kernel's extrema        {1e3 * theirs:10.1f} ms, {theirs / ours:.0f} times as long")
    print(f"same answer             {max(map(abs, same)):10.1e} mm apart on {len(same)} pins")
    early = len(beyond) - len(same)
    print(f"kernel stopped early    {max(beyond):10.1e} mm too far on {early} pins")
    return int(min(beyond) < -BOUND)


if __name__ == "__main__":
    sys.exit(main())
