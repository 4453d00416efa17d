"""Designs checked per second: `springgeo.mechanics.design.evaluate` against a plain Python loop.

Run ``python tests/bench/bench_handbook.py``. Both do the same check of the same random designs in
one process on one core: index, body shear, sigma_A, tau_B, rate, deflection, margins.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import numpy as np

from springgeo.mechanics import rate
from springgeo.mechanics.design import evaluate
from springgeo.mechanics.static_limits import Allowables
from springgeo.mechanics.value import Array

COUNT = 1_000_000
LOOPED = 50_000
G, E = 81500.0, 206000.0


def designs(count: int) -> list[Array]:
    """Return F, F_i, D, d, r_1, r_2, N_b and tensile strength of random springs, (count,) each."""
    rng = np.random.default_rng(1)
    d = rng.uniform(0.5, 5.0, count)
    D = d * rng.uniform(4.0, 16.0, count)
    F = rng.uniform(1.0, 500.0, count)
    S_ut = 1980.0 - 740.0 * np.log10(d)
    return [F, 0.2 * F, D, d, D / 2, 1.5 * d, rng.uniform(5.0, 60.0, count), S_ut]


def by_arrays(columns: list[Array]) -> Array:
    """Return the least margin of every design, by numpy."""
    F, F_i, D, d, r_1, r_2, N_b, S_ut = columns
    allowable = Allowables(0.45 * S_ut, 0.75 * S_ut, 0.40 * S_ut)
    N_a = rate.N_a_modulus_ratio(N_b, G, E)
    return evaluate(F=F, F_i=F_i, D=D, d=d, r_1=r_1, r_2=r_2, N_a=N_a, G=G, allowable=allowable).n


def by_loop(columns: list[Array]) -> list[float]:
    """Return the least margin of every design, by a plain loop."""
    out = []
    for F, F_i, D, d, r_1, r_2, N_b, S_ut in zip(*(c.tolist() for c in columns), strict=True):
        C, C_1, C_2 = D / d, 2 * r_1 / d, 2 * r_2 / d
        tau = 8 * F * D / (math.pi * d**3)
        tau_body = tau * (4 * C + 2) / (4 * C - 3)
        K_A = (4 * C_1 * C_1 - C_1 - 1) / (4 * C_1 * (C_1 - 1))
        sigma_A = F * (16 * K_A * D / d + 4) / (math.pi * d * d)
        tau_B = tau * (4 * C_2 - 1) / (4 * C_2 - 4)
        k = G * d**4 / (8 * D**3 * (N_b + G / E))
        y = max(F - F_i, 0.0) / k
        n = min(0.45 * S_ut / tau_body, 0.75 * S_ut / sigma_A, 0.40 * S_ut / tau_B)
        out.append(n if y >= 0 else math.nan)
    return out


def main() -> None:
    """Print designs per second of both, best of five, and that they agree."""
    columns = designs(COUNT)
    few = [c[:LOOPED] for c in columns]
    fast = min(_seconds(lambda: by_arrays(columns)) for _ in range(5)) / COUNT
    slow = min(_seconds(lambda: by_loop(few)) for _ in range(5)) / LOOPED
    worst = np.max(np.abs(by_arrays(few) / np.array(by_loop(few)) - 1))
    print(f"arrays      {1e-6 / fast:8.2f} million designs/s on one core")
    print(f"plain loop  {1e-6 / slow:8.2f} million designs/s")
    print(f"ratio       {slow / fast:8.1f}, largest difference {worst:.1e}")


def _seconds(run: Callable[[], object]) -> float:
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
