"""CPU seconds of equilibrium: one state, a load line, a fit sweep, and how they grow.

Run ``OPENBLAS_NUM_THREADS=1 python tests/bench/bench_equilibrium.py`` on an idle machine. Bounds:
one state of 50 coils and two hooks 0.08 s, a load line of 20 points 0.4 s, 200 states 1.5 s for
every end style. Best of three, each with a spring that nothing is known of.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from springgeo.ends import registry
from springgeo.equilibrium.load_curve import LoadCurve
from tests.equilibrium.rods import curve_of, spring


def best(what: Callable[[], object]) -> float:
    """Return the least CPU time of three runs, s."""
    found = []
    for _ in range(3):
        start = time.process_time()
        what()
        found.append(time.process_time() - start)
    return min(found)


def sweep(curve: LoadCurve, states: int) -> None:
    """Solve a sweep from the free length to six times the initial tension."""
    longest = curve.length(6 * curve.initial_tension)
    curve.states(lengths=np.linspace(curve.free_length, longest, states).tolist())


def main() -> None:
    """Print the figures."""
    curve_of(spring("full-twisted-loop", coils=4.0)).length(20.0)
    fifty = spring("full-twisted-loop", coils=50.0)
    most = 6 * curve_of(fifty).initial_tension
    print(f"one state, 50 coils          {best(lambda: curve_of(fifty).state(load=most)):.3f} s")
    loads = np.linspace(0.0, most, 20).tolist()
    line = best(lambda: curve_of(fifty).solve_many(loads=loads))
    print(f"load line of 20, 50 coils    {line:.3f} s")
    for coils in (100.0, 200.0, 500.0):
        long = spring("full-twisted-loop", coils=coils)
        took = best(lambda: curve_of(long).state(load=most))  # noqa: B023
        print(f"one state, {coils:3.0f} coils         {took:.3f} s")
    for name in sorted(registry.styles()):
        made = spring(name, coils=20.0)
        print(f"200 states, {name:26} {best(lambda: sweep(curve_of(made), 200)):.2f} s")  # noqa: B023


if __name__ == "__main__":
    main()
