"""The linear system of one Newton step: node after node, in a band."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import Index, apply, transposed, turning
from springgeo.equilibrium.contact.pressing import BLOCKS, Pressing
from springgeo.equilibrium.linear.cells import Linear
from springgeo.equilibrium.linear.lapack import banded


@dataclass(eq=False)
class Band:
    """A square matrix of 6 × 6 blocks of which few diagonals are not zero.

    Attributes
    ----------
    nodes : int
        Blocks to a row.
    diagonals : dict of int to (nodes, 6, 6) float
        By how many rows they stand above the diagonal; block by block, by their column.
    mirrored : dict of int to (6, 6, nodes) float
        More of the same, entry by entry, where all off the diagonal is symmetric: on the diagonal
        and below, what is above being the same turned.
    """

    nodes: int
    diagonals: dict[int, Array] = field(default_factory=dict)
    mirrored: dict[int, Array] = field(default_factory=dict)

    @property
    def reach(self) -> int:
        """Blocks to either side of the diagonal."""
        return max(*self.diagonals, *(-x for x in self.mirrored))

    def add(self, column: slice | Index, above: int, blocks: Array) -> None:
        """Add blocks ``(k, i, j)`` at block columns ``column``, ``above`` rows above them."""
        if above not in self.diagonals:
            self.diagonals[above] = np.zeros((self.nodes, 6, 6))
        self.diagonals[above][column] += blocks

    def add_mirrored(self, column: slice | Index, below: int, blocks: Array) -> None:
        """Add blocks ``(i, j, k)`` at block columns ``column``, ``below`` rows below them.

        And what mirrors them, unless they are on the diagonal.
        """
        if -below not in self.mirrored:
            self.mirrored[-below] = np.zeros((6, 6, self.nodes))
        self.mirrored[-below][:, :, column] += blocks

    def block(self, row: int, column: int) -> Array:
        """Return one block, to write to: of those that nothing mirrors."""
        block: Array = self.diagonals[column - row][column]
        return block

    def in_column(self, node: int) -> Iterator[tuple[int, Array]]:
        """Yield the row of each block of a column, and the block, to write to.

        All but what is mirrored from the row.
        """
        for above, blocks in self.diagonals.items():
            if 0 <= node - above < self.nodes:
                yield node - above, blocks[node]
        for above, entries in self.mirrored.items():
            if node - above < self.nodes:
                yield node - above, entries[:, :, node]

    def in_row(self, node: int) -> Iterator[tuple[int, Array]]:
        """Yield the column of each block of a row, and the block, to write to.

        All but what is mirrored from the column.
        """
        for above, blocks in self.diagonals.items():
            if 0 <= node + above < self.nodes:
                yield node + above, blocks[node + above]
        for above, entries in self.mirrored.items():
            if node + above >= 0:
                yield node + above, entries[:, :, node + above]

    def turn(self, node: int, axes: Array) -> None:
        """Tell the motions of a node, and what acts on it, in other ``axes`` ``(6, 6)``."""
        for _, block in self.in_column(node):
            block[:] = block @ axes
        for _, block in self.in_row(node):
            block[:] = axes.T @ block

    def hold(self, node: int, motions: list[int], right: Array, values: Array) -> None:
        """Hold motions of a node at values in the first of the right-hand sides.

        Their rows and columns become those of the unit matrix.
        """
        free, known, one = np.ones(6), np.zeros(6), np.zeros((6, 6))
        free[motions], known[motions], one[motions, motions] = 0.0, values, 1.0
        for row, block in self.in_column(node):
            right[0, row] -= block @ known
            block *= free
        for above, entries in self.mirrored.items():
            if above < 0 <= node + above:
                right[0, node + above] -= known @ entries[:, :, node + above]
        for _, block in self.in_row(node):
            block *= free[:, None]
        block = self.block(node, node)
        block += one
        right[:, node] *= free
        right[0, node] += known

    def solver(self) -> Callable[[Array], Array]:
        """Return what solves for right-hand sides ``(m, nodes, 6)``: the matrix taken apart once.

        In equilibrium the stiffness is symmetric, and positive definite where that is stable.
        Where coils press it is solved as if it were both, if that serves: a quarter of the work.
        """
        if self.reach > 1:
            factors, info = banded("dpbtrf")(self._lower().T, lower=1, overwrite_ab=1)
            if not info:
                return partial(_solved, lambda known: banded("dpbtrs")(factors, known, lower=1))
        width = 6 * self.reach + 5
        lu, pivots, info = banded("dgbtrf")(self._whole().T, width, width, overwrite_ab=1)
        if info:
            raise ArithmeticError("the stiffness is singular")
        return partial(_solved, lambda known: banded("dgbtrs")(lu, width, width, known, pivots))

    def _whole(self) -> Array:
        """Return the matrix as dgbsv takes it: a column a row, the diagonal in the middle."""
        width = 6 * self.reach + 5
        out = np.zeros((6 * self.nodes, 3 * width + 1))
        for above, blocks in self.diagonals.items():
            _laid(out, 2 * width - 6 * above, len(blocks))[:] = blocks
        for above, entries in self.mirrored.items():
            _laid(out, 2 * width - 6 * above, self.nodes)[:] += entries.transpose(2, 0, 1)
            if above:
                other = entries[:, :, :above].transpose(2, 1, 0)
                _laid(out[-6 * above :], 2 * width + 6 * above, len(other))[:] += other
        return out

    def _lower(self) -> Array:
        """Return the lower half of the symmetric part as dpbsv takes it: a column a row."""
        out = np.zeros((6 * self.nodes, 6 * self.reach + 6))
        for above, blocks in self.diagonals.items():
            if above < 0:
                # that above the diagonal which is the same block turned
                both = blocks[:above] + transposed(self.diagonals[-above][-above:])
                _laid(out, -6 * above, len(both))[:] = both / 2
        for above, entries in self.mirrored.items():
            if above < 0:
                _laid(out, -6 * above, self.nodes)[:] += entries.transpose(2, 0, 1)
        own = self.diagonals[0]
        if 0 in self.mirrored:
            own = own + self.mirrored[0].transpose(2, 0, 1)
        own = (own + transposed(own)) / 2
        for column in range(6):
            for row in range(column, 6):
                out[column::6, row - column] = own[:, row, column]
        return out


def _solved(solve: Callable[[Array], tuple[Array, int]], right: Array) -> Array:
    x, _ = solve(right.reshape(len(right), -1).T)
    found: Array = np.ascontiguousarray(x.T).reshape(right.shape)
    return found


def _laid(out: Array, first: int, count: int) -> Array:
    """Return blocks, ``(count, 6, 6)``, as columns of the matrix hold them from ``first`` on."""
    column, entry = out.strides
    view: Array = np.lib.stride_tricks.as_strided(
        out[:, first:], (count, 6, 6), (6 * column, entry, column - entry)
    )
    return view


def assembled(cells: Linear, press: Pressing | None) -> tuple[Band, Array]:
    """Return the stiffness of all nodes and what the wire's own forces leave unbalanced.

    The latter is ``(nodes, 6)``: what the iteration has to undo, loads left out.
    """
    n = len(cells.far)
    band = Band(n + 1)
    far, carry = turning(cells.far), cells.to_near
    through = carry @ cells.stiffness
    band.add(slice(1, None), 0, cells.stiffness)
    band.add(slice(0, n), -1, -(cells.stiffness @ transposed(carry)))
    band.add(slice(1, None), 1, carry @ far - through)
    band.add(slice(0, n), 0, through @ transposed(carry) - turning(cells.near))
    out = np.zeros((n + 1, 6))
    reached = cells.far + cells.missing
    out[1:] += reached
    out[:-1] -= cells.near + apply(carry, cells.missing)
    if press is not None:
        _add_pressing(band, out, press)
    return band, out


def _add_pressing(band: Band, out: Array, press: Pressing) -> None:
    nodes = press.nodes
    if not nodes.size:
        return
    # rows of places that follow each other, node after node, are the rule
    follow = len(nodes[0]) == nodes[0, -1] - nodes[0, 0] + 1
    at = [slice(x[0], x[-1] + 1) if follow else x for x in nodes]
    for row, borne in zip(at, press.on_nodes, strict=True):
        out[row] -= borne.T
    for tangent, (x, y) in zip(press.tangent, BLOCKS, strict=True):
        band.add_mirrored(at[y], int(nodes[x, 0] - nodes[y, 0]), -tangent)
