"""The knee against frame elements of a textbook and a general-purpose solver of the contact.

Straight frame elements with six numbers to a node (Przemieniecki, Theory of Matrix Structural
Analysis, 1968, ch. 5, without shear; from memory) along the drawn centreline, and coils that press
and never pull as a problem of non-negative least squares (Lawson and Hanson, scipy). Neither
shares anything with the solver but the drawn shape and the force that presses. Small deflections:
through the knee the spring moves by less than a wire diameter.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.linalg import cholesky, solve_triangular
from scipy.optimize import nnls
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

import springgeo as sg
from springgeo.curve.frame import Array
from springgeo.equilibrium.hung import to_z
from tests.equilibrium.rods import curve_of, spring

E, G, PER_TURN = 206000.0, 79230.77, 96


def _element(a: Array, b: Array, d: float) -> Array:
    """Return the stiffness ``(12, 12)`` of a round bar from a to b, in space."""
    way = b - a
    h = float(np.linalg.norm(way))
    x = way / h
    y = np.cross([0.0, 0.0, 1.0] if abs(x[2]) < 0.9 else [1.0, 0.0, 0.0], x)
    y /= np.linalg.norm(y)
    turn = np.kron(np.eye(4), np.stack([x, y, np.cross(x, y)]))
    area, inertia = math.pi * d**2 / 4, math.pi * d**4 / 64
    k = np.zeros((12, 12))
    for i, j, of in ((0, 6, E * area / h), (3, 9, 2 * G * inertia / h)):
        k[np.ix_([i, j], [i, j])] = of * np.array([[1, -1], [-1, 1]])
    s = E * inertia
    for v, r, sign in ((1, 5, 1), (2, 4, -1)):
        c = sign * 6 * s / h**2
        k[np.ix_([v, r, v + 6, r + 6], [v, r, v + 6, r + 6])] = [
            [12 * s / h**3, c, -12 * s / h**3, c],
            [c, 4 * s / h, -c, 2 * s / h],
            [-12 * s / h**3, -c, 12 * s / h**3, -c],
            [c, 2 * s / h, -c, 4 * s / h],
        ]
    result: Array = turn.T @ k @ turn
    return result


def _stations(made: sg.Spring) -> tuple[Array, int]:
    """Return the arc lengths of the nodes, and the first of the body's, ``PER_TURN`` to a turn."""
    g = made.model.geometry
    low, high = g.load_s
    start = next(s for piece, s in g.path if piece.role == "body")
    body = next(piece.segment for piece in g.path.pieces if piece.role == "body")
    inner = start + np.linspace(0.0, body.length, round(g.turns * PER_TURN) + 1)
    step = inner[1] - inner[0]
    before = np.linspace(low, start, math.ceil((start - low) / step) + 1)[:-1]
    after = np.linspace(inner[-1], high, math.ceil((high - inner[-1]) / step) + 1)[1:]
    return np.concatenate([before, inner, after]), len(before)


def _extensions(made: sg.Spring, pressing: float, loads: list[float]) -> list[float]:
    """Return by how much the ends move apart at loads, mm."""
    g = made.model.geometry
    d = g.wire_diameter
    s, first = _stations(made)
    # the pull runs from contact to contact
    a, b = g.pull_points
    p = g.path.point(s) @ to_z((b - a) / np.linalg.norm(b - a)).T
    n, count = len(p), round(g.turns * PER_TURN) + 1
    rows, columns, values = [], [], []
    for i in range(n - 1):
        at = np.arange(6 * i, 6 * i + 12)
        rows.append(np.repeat(at, 12))
        columns.append(np.tile(at, 12))
        values.append(_element(p[i], p[i + 1], d).ravel())
    every = coo_matrix(
        (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
        shape=(6 * n, 6 * n),
    ).tocsc()
    last = 6 * (n - 1)
    free = np.setdiff1d(np.arange(6 * n), [0, 1, 2, 5, last, last + 1])
    # unit forces: the pull, and each pair of coils apart along their line of centres
    low = first + np.arange(count - PER_TURN)
    line = p[low + PER_TURN] - p[low]
    along = p[low + 1] - p[low - 1]
    along /= np.linalg.norm(along, axis=1)[:, None]
    line -= np.sum(line * along, axis=1)[:, None] * along
    line /= np.linalg.norm(line, axis=1)[:, None]
    unit = np.zeros((6 * n, 1 + len(low)))
    unit[last + 2, 0] = 1.0
    for k, (j, way) in enumerate(zip(low, line, strict=True), start=1):
        unit[6 * j : 6 * j + 3, k] = -way
        unit[6 * (j + PER_TURN) : 6 * (j + PER_TURN) + 3, k] = way
    moved = np.zeros_like(unit)
    moved[free] = splu(every[free][:, free]).solve(unit[free])
    flexibility = unit.T @ moved
    C, c, own = flexibility[1:, 1:], flexibility[1:, 0], flexibility[0, 0]
    # pressed as wound: so much to a turn, all alike; trapezoidal at both ends
    wound = np.full(len(low), pressing / PER_TURN)
    wound[[0, -1]] /= 2
    root = cholesky(C + 1e-12 * np.trace(C) / len(C) * np.eye(len(C)), lower=True)
    found = []
    for load in loads:
        # gaps C (f − f₀) + c F, no less than zero where f is zero, and f no less than zero
        force, _ = nnls(root.T, solve_triangular(root, C @ wound - c * load, lower=True))
        found.append(float(own * load + c @ (force - wound)))
    return found


@pytest.mark.parametrize(
    ("style", "D", "coils"),
    [
        ("full-twisted-loop", 12.0, 4.25),
        ("full-loop-at-side", 12.0, 5.0),
        ("machine-half-loop", 10.0, 4.5),
        ("hook-at-side", 12.0, 3.5),
    ],
)
def test_the_knee_against_frame_elements(style: str, D: float, coils: float) -> None:
    made = spring(style, D=D, coils=coils, initial_stress=12.0)
    curve = curve_of(made)
    loads = [share * curve.initial_tension for share in (0.5, 0.8, 1.0, 1.1, 1.3)]
    found = [curve.length(load) - curve.free_length for load in loads]
    expected = _extensions(made, curve.pressing, loads)
    assert found == pytest.approx(expected, rel=0.015)
