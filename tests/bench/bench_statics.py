"""Milliseconds per analysis along the wire: ``springgeo.statics.analyse`` against a plain loop.

Run ``python tests/bench/bench_statics.py``. The spring has 50 coils and a half hook at each end;
the loop does the same stations of the same spring one by one, in the same process.
"""

from __future__ import annotations

import math
import timeit

import numpy as np

from springgeo.curve import Arc, CylinderBend, Helix, Path, Piece
from springgeo.curve.frame import FLIP, rotation_z, vector
from springgeo.statics import Contacts, analyse
from springgeo.statics.around import greatest
from springgeo.statics.coefficients import law
from springgeo.statics.energy import compliance
from springgeo.statics.felt import felt
from springgeo.statics.forces import load, resolve
from springgeo.statics.frames import Frames
from springgeo.statics.stations import stations
from springgeo.statics.surface import surface

D, RADIUS, PITCH, TURNS, E, G = 1.0, 4.0, 1.05, 50, 206000.0, 79230.0
ROUNDS, TARGET = 20, 5.0


def spring() -> tuple[Path, Contacts]:
    """Return a centreline that nobody has looked at yet, and its contacts."""
    helix = Helix(radius=RADIUS, pitch=PITCH, turns=TURNS)
    bend = CylinderBend(radius=RADIUS, bend_radius=2 * D, start=helix.lead_angle, end=math.pi / 2)
    top = bend.point(np.array([bend.length]))[0]
    loop = Arc.leaving(top, vector(0, 0, 1), vector(-top[0], -top[1], 0), RADIUS, 2.1)
    hook = Path([Piece(bend, "bend", "bend"), Piece(loop, "loop", "loop")])
    lift = vector(0, 0, TURNS * PITCH)
    a = hook.moved(FLIP, np.zeros(3)).reversed().pieces
    b = hook.moved(rotation_z(2 * math.pi * TURNS), lift).pieces
    path = Path([*a, Piece(helix, "body", "body"), *b])
    past = RADIUS * (2.1 - math.pi / 2)
    s = np.array([past, path.length - past])
    point = path.point(s)
    return path, Contacts(point[0], point[1], past, path.length - past)


def by_loop(path: Path, contacts: Contacts) -> float:
    """Return the greatest von Mises stress, one station after the other."""
    every = stations(path, D, contacts.s_a, contacts.s_b)
    compliance(path, D, contacts, E, G)
    force, moment = load(every.point, contacts)
    data = law(E / (2 * G) - 1)
    around = felt(every, D, data.rates)
    worst = 0.0
    for i in np.flatnonzero((every.s >= contacts.s_a) & (every.s <= contacts.s_b)):
        j = np.arange(len(every.s)) == i
        here = around[j]
        forces = resolve(force, moment[j], Frames(every.tangent[j], here.n, here.b))
        found = greatest(surface(forces, here, D, data.nu))
        worst = max(worst, float(found.von_mises[0]))
    return worst


def main() -> None:
    """Print both times and check that both give one answer.

    But for where the 72 angles start.
    """
    fresh = [spring() for _ in range(ROUNDS)]
    path, contacts = fresh[0]
    result = analyse(path, D, contacts, E, G)
    worst = max(p.von_mises.value for p in result.peaks.values())
    if not math.isclose(worst, by_loop(path, contacts), rel_tol=2e-3):
        raise SystemExit("the two ways disagree")
    clock = timeit.default_timer
    times = []
    for new, held in fresh:
        start = clock()
        analyse(new, D, held, E, G)
        times.append(clock() - start)
    loop = min(timeit.repeat(lambda: by_loop(path, contacts), number=1, repeat=3))
    ms = 1e3 * float(np.median(times))
    print(f"{len(result.s)} stations, 72 angles each")
    print(f"analyse     {ms:8.2f} ms (best {1e3 * min(times):.2f}, target {TARGET:g})")
    print(f"plain loop  {1e3 * loop:8.2f} ms ({1e3 * loop / ms:.0f} times as long)")


if __name__ == "__main__":
    main()
