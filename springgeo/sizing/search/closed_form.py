"""A whole spring in closed form from wire, index, ends and load line: the model of the search.

The line fixes the rate, the rate the coils, the coils the free length, and the free length the
initial tension; nothing is iterated. Handbook level throughout.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from springgeo.mechanics import body, dynamics, hook, length, rate
from springgeo.mechanics import initial_tension as tension
from springgeo.mechanics.value import Array
from springgeo.sizing.job.end_option import EndOption
from springgeo.sizing.job.need import Line
from springgeo.sizing.job.wires import Wires
from springgeo.sizing.search.factors import HANDBOOK, ByIndex, Factors
from springgeo.sizing.search.hooks import Hook, hook_at, pitch_at


class Proportions(NamedTuple):
    """What depends on the index alone, each ``(m,)``; lengths over d."""

    C: Array
    pitch: Array
    a: Hook
    b: Hook
    K_body: Array
    K_A: Array
    K_B: Array
    preferred: tension.Range
    factors: Factors


class Designs(NamedTuple):
    """Springs on wires x indices, each ``(n, m)`` or broadcasting to it.

    N, mm, MPa, kg, Hz; margins are allowable over stress at the highest load.
    """

    C: Array
    D: Array
    N_a: Array
    N_b: Array
    L_0: Array
    F_i: Array
    tau_i: Array
    hook_a: Array
    hook_b: Array
    margins: tuple[Array, Array, Array]
    fatigue: tuple[Array, Array, Array]
    mass: Array
    frequency: Array


def proportions(
    C: Array, ends: tuple[EndOption, EndOption], factors: ByIndex = HANDBOOK
) -> Proportions:
    """Return everything that depends on index and ends alone.

    The stress factors are those of the worse end: Bergsträsser for the body, Shigley eq. 10-35
    and 10-37 for A and B, on the mean diameter of the coil under the hook.
    """
    a, b = (hook_at(end, C) for end in ends)
    with np.errstate(invalid="ignore"):
        K_A, K_B = (np.maximum(f(a), f(b)) for f in (_K_A, _K_B))
    low, middle, high = tension.preferred_shigley(C)
    preferred = tension.Range(np.maximum(low, 0.0), middle, np.maximum(high, 0.0))
    K_body, corrected = np.asarray(body.K_B(C)), factors.at(C)
    return Proportions(C, pitch_at(C), a, b, K_body, K_A, K_B, preferred, corrected)


def _K_A(end: Hook) -> Array:
    index = np.where(np.isinf(end.r_1), 1e9, hook.bend_index(end.r_1, 1.0))
    return np.asarray(end.holds * end.narrow * hook.K_A(index))


def _K_B(end: Hook) -> Array:
    index = np.where(np.isinf(end.r_2), 1e9, hook.bend_index(end.r_2, 1.0))
    return np.asarray(end.holds * end.narrow * hook.K_B(index))


def designs(line: Line, w: Wires, p: Proportions) -> Designs:
    """Return the spring of every wire (n) at every index (m) that follows the load line.

    N_a = G d/(8 C^3 k), N_b = N_a - share of the hooks (G/2E each, Shigley eq. 10-40) and of
    coils wound by the ends,
    L_0 = hooks + N_b pitch + d, further by what contacts are out of line,
    F_i = F_1 - k (L_1 - L_0). Known: derived.

    Parameters
    ----------
    line : Line
    w : Wires
        Columns ``(n, 1)``.
    p : Proportions
        ``(m,)``.
    """
    d, D = w.d, w.d * p.C
    N_a = np.asarray(rate.N_a_for_rate(w.G, D, d, line.k))
    both = rate.N_a_modulus_ratio(0.0, w.G, w.E)
    beside = p.a.coils + p.b.coils
    hooks = both * (0.5 * p.factors.turns * (p.a.turns + p.b.turns))
    N_b = (N_a - hooks - beside) / p.factors.coils
    # what the handbook counts of a spring with so many coils: the factors' are of the load line
    counted = np.maximum(N_b, 1.0) + both * (0.5 * (p.a.turns + p.b.turns)) + beside
    hook_a, hook_b = d * p.a.length, d * p.b.length
    L_0 = np.asarray(length.free_length(d * (N_b * p.pitch + 1.0), hook_a, hook_b))
    L_0 = np.hypot(L_0, d * p.factors.aside)
    F_i = line.F_1 - line.k * (line.L_1 - L_0)
    unit = body.tau_uncorrected(1.0, D, d)  # MPa per N
    tau, f = line.F_2 * unit, p.factors
    stress = (
        tau * (f.body * p.K_body),
        # bending at A with its direct tension, zero for an end without hook
        tau * (2.0 * f.a * p.K_A) + (p.K_A > 0) * (4.0 * f.a * line.F_2 / (np.pi * d * d)),
        tau * (f.b * p.K_B),
    )
    with np.errstate(divide="ignore"):
        margins = w.static[0] / stress[0], w.static[1] / stress[1], w.static[2] / stress[2]
        fatigue = w.fatigue[0] / stress[0], w.fatigue[1] / stress[1], w.fatigue[2] / stress[2]
    own = d * (p.a.wire + p.b.wire)
    area = 0.25 * np.pi * d * d
    active = (
        np.asarray(dynamics.active_wire_mass(D, d, counted - beside, w.rho)) + area * w.rho * own
    )
    # wire: body and, for each hook, about a turn (common practice)
    ends = np.pi * D * (p.a.holds * p.a.narrow + p.b.holds * p.b.narrow) + own
    wire = length.wire_length_body(N_b, D, d * p.pitch) + ends
    return Designs(
        p.C,
        D,
        N_a,
        N_b,
        L_0,
        F_i,
        F_i * unit,
        hook_a,
        hook_b,
        margins,
        fatigue,
        area * w.rho * wire,
        np.asarray(dynamics.f_both_held(line.k * N_a / counted, active)),
    )
