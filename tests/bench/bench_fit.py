"""Fit of a 50-coil spring: a sweep of 200 states, and one query against the kernel's extrema.

Run ``python tests/bench/bench_fit.py``. Both measure the same pin and hook in one process.
"""

from __future__ import annotations

import time

import numpy as np
from cadquery import Solid, Vector

from springgeo import Spring
from springgeo.fit import (
    Around,
    Bore,
    Cylinder,
    EndMate,
    Mating,
    Pin,
    Rod,
    Tube,
    Wire,
    clearance,
    end_frame,
    seated,
    state_fit,
)
from springgeo.state import State

STATES = 200
SPEC = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 50},
    "ends": {"a": {"style": "machine-half-loop"}, "b": {"style": "machine-half-loop"}},
    "service": {"loads": [25, 40]},
}
MATING = Mating(
    a=EndMate(pin=Pin(diameter=3, length=20)),
    b=EndMate(pin=Pin(diameter=3, length=20)),
    around=Around(bore=Bore(diameter=13), rod=Rod(diameter=7)),
)


def pairs(state: State) -> int:
    """Measure both pins against hook and body, the bore and the rod; return how many."""
    g = state.geometry
    wire = Wire.of(g.path, g.diameter)
    body = wire.only(lambda p: p.role == "body")
    axis = np.array([0.0, 0.0, 1.0])
    found = [
        clearance(wire, Tube(np.zeros(3), axis, 6.5)),
        clearance(body, Cylinder(np.zeros(3), axis, 3.5)),
    ]
    for side, mate in (("a", MATING.a), ("b", MATING.b)):
        frame = end_frame(g, "a" if side == "a" else "b")
        assert mate is not None
        assert frame is not None
        pin = seated(frame, mate.part)
        own = wire.only(lambda p, side=side: p.label.startswith(f"{side}."))
        found += [clearance(own, pin), clearance(body, pin)]
    return len(found)


def main() -> None:
    """Print seconds of the sweep, and of one query by both ways with their difference."""
    spring = Spring.from_dict(SPEC)
    lengths = np.linspace(1.0, 1.4, STATES) * spring.free_length
    start = time.perf_counter()
    states = [spring.at(length=x) for x in lengths.tolist()]
    made = time.perf_counter() - start
    start = time.perf_counter()
    fits = [state_fit(s, MATING) for s in states]
    swept = time.perf_counter() - start
    start = time.perf_counter()
    count = sum(pairs(s) for s in states)
    paired = time.perf_counter() - start
    print(f"{STATES} states made by Spring.at   {made:8.3f} s")
    print(f"{count} pairs, distances alone      {paired:8.3f} s")
    print(f"{len(fits)} whole fits, mouth and swing  {swept:8.3f} s")

    state = states[50]
    pin = Cylinder(np.array([0.4, 1.0, 2.9]), np.array([0.1, 1.0, 0.2]), 1.5, 20.0)
    path, d = state.geometry.path, state.geometry.diameter
    wire = Wire.of(path, d)  # prepared once per state, as the kernel's solid is
    start = time.perf_counter()
    for _ in range(100):
        own = clearance(wire, pin).distance
    ours = (time.perf_counter() - start) / 100
    solid = state.solid()
    axis = pin.axis / np.linalg.norm(pin.axis)
    foot = pin.centre - axis * pin.length / 2
    other = Solid.makeCylinder(pin.radius, pin.length, Vector(*foot), Vector(*axis))
    start = time.perf_counter()
    kernel = solid.distance(other)
    theirs = time.perf_counter() - start
    print(f"one query                       {1e3 * ours:8.3f} ms")
    print(f"one query, kernel extrema       {1e3 * theirs:8.1f} ms")
    ratio, differ = theirs / ours, abs(own - kernel)
    print(f"ratio                           {ratio:8.0f}, differ {differ:.1e} mm")


if __name__ == "__main__":
    main()
