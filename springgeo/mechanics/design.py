"""The whole handbook check of many designs at once, in chunks that stay in the cache."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from springgeo.mechanics import body, hook, rate, static_limits
from springgeo.mechanics.static_limits import Allowables
from springgeo.mechanics.value import Array, Value

CHUNK = 8192
"""Designs per chunk: the temporaries of one chunk fit a second-level cache."""


class Check(NamedTuple):
    """Handbook figures of designs at one load each; every field has the broadcast shape.

    C, C_1, C_2 indices of body, loop and bend; tau_body, sigma_A, tau_B stresses in MPa with
    their curvature factors; k rate, N/mm; y deflection, mm; n_body, n_A, n_B safety factors;
    n the least of the three.
    """

    C: Array
    C_1: Array
    C_2: Array
    tau_body: Array
    sigma_A: Array
    tau_B: Array
    k: Array
    y: Array
    n_body: Array
    n_A: Array
    n_B: Array
    n: Array


def evaluate(
    *,
    F: Value,
    F_i: Value,
    D: Value,
    d: Value,
    r_1: Value,
    r_2: Value,
    N_a: Value,
    G: Value,
    allowable: Allowables,
    K: Callable[[Value], Value] = body.K_B,
) -> Check:
    """Return the handbook check of every design: index, stresses, rate, deflection, margins.

    One end is checked: where the two differ, take the smaller radii or call twice.

    Parameters
    ----------
    F, F_i : float or array
        The whole load, above 0, and initial tension, N.
    D, d : float or array
        Mean coil diameter and wire diameter, mm.
    r_1, r_2 : float or array
        Centreline radii of loop and bend, mm.
    N_a : float or array
        Active coils, by the convention of the caller's choice in `springgeo.mechanics.rate`.
    G : float or array
        Shear modulus, MPa.
    allowable : Allowables
        Allowable stresses for corrected stress, MPa.
    K : callable
        Curvature factor of the body as a function of the index.

    Returns
    -------
    Check
        Arrays, each of the shape all arguments broadcast to.
    """
    shaped = np.broadcast_arrays(F, F_i, D, d, r_1, r_2, N_a, G, *allowable)
    shape = shaped[0].shape
    if shaped[0].size <= CHUNK:
        return Check(*(np.asarray(x, dtype=np.float64) for x in _check(K, *shaped)))
    columns = [_flat(x) for x in shaped]
    out = np.empty((len(Check._fields), columns[0].size))
    for start in range(0, out.shape[1], CHUNK):
        part = slice(start, start + CHUNK)
        for row, values in zip(out, _check(K, *(x[part] for x in columns)), strict=True):
            row[part] = values
    return Check(*(row.reshape(shape) for row in out))


def _flat(x: Array) -> Array:
    """Return an array as one dimension; a repeated single number stays a view."""
    if all(step == 0 or size == 1 for step, size in zip(x.strides, x.shape, strict=True)):
        return np.broadcast_to(x.flat[0], x.size)
    return x.reshape(-1)


def _check(
    K: Callable[[Value], Value],
    F: Value,
    F_i: Value,
    D: Value,
    d: Value,
    r_1: Value,
    r_2: Value,
    N_a: Value,
    G: Value,
    tau_body_allowed: Value,
    sigma_A_allowed: Value,
    tau_B_allowed: Value,
) -> tuple[Value, ...]:
    C, C_1, C_2 = body.spring_index(D, d), hook.bend_index(r_1, d), hook.bend_index(r_2, d)
    tau_body = body.tau_corrected(F, D, d, K(C))
    sigma_A = hook.sigma_A(F, D, d, hook.K_A(C_1))
    tau_B = hook.tau_B(F, D, d, hook.K_B(C_2))
    k = rate.rate(G, D, d, N_a)
    y = rate.deflection(F, F_i, k)
    n_body = static_limits.margin(tau_body_allowed, tau_body)
    n_A = static_limits.margin(sigma_A_allowed, sigma_A)
    n_B = static_limits.margin(tau_B_allowed, tau_B)
    n = np.minimum(np.minimum(n_body, n_A), n_B)
    return C, C_1, C_2, tau_body, sigma_A, tau_B, k, y, n_body, n_A, n_B, n
