"""The banded system solved as symmetric and as any matrix, against numpy's dense solver."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.curve.frame import Array
from springgeo.equilibrium.linear.system import Band

NODES = 15


def _random(reach: tuple[int, ...], seed: int) -> tuple[Band, Array]:
    """Return a symmetric, positive definite band, and the same matrix dense."""
    rng = np.random.default_rng(seed)
    band, dense = Band(NODES), np.zeros((6 * NODES, 6 * NODES))
    for above in (0, *reach):
        blocks = rng.normal(size=(NODES, 6, 6))
        if above == 0:
            blocks = blocks + np.swapaxes(blocks, 1, 2) + 60 * np.eye(6)
        blocks[:above] = 0.0
        band.add(slice(None), above, blocks)
        if above:
            turned = np.zeros_like(blocks)
            turned[:-above] = np.swapaxes(blocks[above:], 1, 2)
            band.add(slice(None), -above, turned)
    for row in range(NODES):
        for column, block in band.in_row(row):
            dense[6 * row : 6 * row + 6, 6 * column : 6 * column + 6] = block
    return band, dense


def _mirrored(band: Band, dense: Array, seed: int) -> None:
    """Add to both what is told on and below the diagonal alone."""
    rng = np.random.default_rng(seed)
    for below in (0, 1, 7, 8):
        count = NODES - 1 - below
        blocks = rng.normal(size=(6, 6, count))
        if below == 0:
            blocks = blocks + np.swapaxes(blocks, 0, 1)
        band.add_mirrored(slice(1, 1 + count), below, blocks)
        for column, block in enumerate(np.moveaxis(blocks, 2, 0), 1):
            at, to = slice(6 * column, 6 * column + 6), 6 * (column + below)
            dense[to : to + 6, at] += block
            if below:
                dense[at, to : to + 6] += block.T


@pytest.mark.parametrize("indefinite", [False, True])
def test_what_is_mirrored(indefinite: bool) -> None:
    """With a motion of a node told in other axes, and one held."""
    band, dense = _random((1, 7, 8, 9), 9)
    _mirrored(band, dense, 10)
    rng = np.random.default_rng(11)
    right, axes = rng.normal(size=(2, NODES, 6)), np.linalg.qr(rng.normal(size=(6, 6)))[0]
    if indefinite:
        band.add(slice(3, 4), 0, -200 * np.eye(6)[None])
        dense[18:24, 18:24] -= 200 * np.eye(6)
    known, at = right.reshape(2, -1).T.copy(), slice(6 * 9, 6 * 10)
    dense[:, at] = dense[:, at] @ axes
    dense[at] = axes.T @ dense[at]
    held = 6 * 9 + 2
    known -= np.outer(dense[:, held], [0.3, 0.0])
    dense[held] = dense[:, held] = 0.0
    dense[held, held], known[held] = 1.0, [0.3, 0.0]
    expected = np.linalg.solve(dense, known).T.reshape(right.shape)
    band.turn(9, axes)
    band.hold(9, 2, right, 0.3)
    assert band.solver()(right) == pytest.approx(expected, rel=1e-8, abs=1e-10)


@pytest.mark.parametrize("reach", [(1,), (1, 7, 8, 9)])
def test_solutions(reach: tuple[int, ...]) -> None:
    band, dense = _random(reach, 3)
    right = np.random.default_rng(4).normal(size=(2, NODES, 6))
    expected = np.linalg.solve(dense, right.reshape(2, -1).T).T.reshape(right.shape)
    assert band.solver()(right) == pytest.approx(expected, rel=1e-10, abs=1e-12)


def test_what_is_not_definite_is_solved_as_any_matrix() -> None:
    band, dense = _random((1, 7, 8, 9), 5)
    band.add(slice(3, 4), 0, -200 * np.eye(6)[None])
    dense[18:24, 18:24] -= 200 * np.eye(6)
    right = np.random.default_rng(6).normal(size=(2, NODES, 6))
    expected = np.linalg.solve(dense, right.reshape(2, -1).T).T.reshape(right.shape)
    assert band.solver()(right) == pytest.approx(expected, rel=1e-9, abs=1e-11)


def test_a_motion_that_is_held() -> None:
    """Row and column go, and what the column bears goes to the other side."""
    band, dense = _random((1, 7, 8, 9), 7)
    right = np.random.default_rng(8).normal(size=(2, NODES, 6))
    row, known = 6 * 9 + 2, right.reshape(2, -1).T.copy()
    dense[row], known[row] = 0.0, [0.3, 0.0]
    dense[row, row] = 1.0
    expected = np.linalg.solve(dense, known).T.reshape(right.shape)
    band.hold(9, 2, right, 0.3)
    assert band.solver()(right) == pytest.approx(expected, rel=1e-10, abs=1e-12)
