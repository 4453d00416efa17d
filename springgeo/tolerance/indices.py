"""Sobol' indices: what share of an answer's variance each thing that strays brings."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.tolerance.drawn import unit_draws


class Indices(NamedTuple):
    """First-order and total indices ``(inputs, answers)``; zero where an answer does not vary."""

    first: Array
    total: Array


def indices(answer: Callable[[Array], Array], inputs: int, count: int, seed: int) -> Indices:
    """Return the indices of a function of uniform numbers.

    First order: the mean of f(B) (f(AB_i) - f(A)) over the variance; total: half of the mean
    square of f(A) - f(AB_i) over it, AB_i being A with column i of B. Source: A. Saltelli et al.,
    Computer Physics Communications 181 (2010) 259, table 2, (b) and (f), the latter by Jansen.
    Known: from memory.

    Parameters
    ----------
    answer : callable
        Of numbers ``(inputs, n)`` between 0 and 1, ``(answers, n)``.
    inputs, count, seed : int
        ``count``: rows of A and of B, a power of two.
    """
    both = np.concatenate(list(unit_draws(count, 2 * inputs, seed)), axis=1)
    A, B = both[:inputs], both[inputs:]
    f_A, f_B = answer(A), answer(B)
    return estimated(f_A, f_B, [answer(_mixed(A, B, i)) for i in range(inputs)])


def estimated(f_A: Array, f_B: Array, f_AB: list[Array]) -> Indices:
    """Return the indices by the answers ``(answers, n)`` of A, of B, and of every AB_i."""
    whole = np.concatenate([f_A, f_B], axis=1)
    mean, variance = whole.mean(axis=1, keepdims=True), whole.var(axis=1)
    varies = variance > 1e-24 * np.maximum(mean[:, 0] ** 2, 1e-300)
    over = np.where(varies, variance, np.inf)
    first = [((f_B - mean) * (f - f_A)).mean(axis=1) / over for f in f_AB]
    total = [0.5 * ((f_A - f) ** 2).mean(axis=1) / over for f in f_AB]
    return Indices(np.array(first), np.array(total))


def _mixed(A: Array, B: Array, column: int) -> Array:
    mixed = A.copy()
    mixed[column] = B[column]
    return mixed
