"""The linear system of one Newton step: node after node, in a band."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import apply, transposed, turning
from springgeo.equilibrium.cell import Linear
from springgeo.equilibrium.contact import Index, Pairs
from springgeo.equilibrium.lapack import banded_solver
from springgeo.equilibrium.pressing import Pressing


@dataclass(eq=False)
class Band:
    """A square matrix of 6 × 6 blocks with ``reach`` blocks to either side of the diagonal.

    Held as LAPACK's dgbsv wants it, one column of the matrix a row of ``data``.
    """

    data: Array
    reach: int

    @classmethod
    def empty(cls, nodes: int, reach: int) -> Band:
        """Return a matrix of zeros."""
        width = 6 * reach + 5
        return cls(np.zeros((nodes, 6, 3 * width + 1)), reach)

    @property
    def width(self) -> int:
        """Entries to either side of the diagonal."""
        return 6 * self.reach + 5

    def add(self, column: slice | Index, above: int, blocks: Array) -> None:
        """Add blocks ``(k, i, j)`` at block columns ``column``, ``above`` rows above them."""
        self._blocks(above)[column] += blocks

    def _blocks(self, above: int) -> Array:
        """Return the blocks ``above`` rows above the diagonal, ``(nodes, 6, 6)``, to write to."""
        first = 2 * self.width - 6 * above
        node, column, entry = self.data.strides
        view: Array = np.lib.stride_tricks.as_strided(
            self.data[:, :, first:], (len(self.data), 6, 6), (node, entry, column - entry)
        )
        return view

    def block(self, row: int, column: int) -> Array:
        """Return one block, to write to."""
        block: Array = self._blocks(column - row)[column]
        return block

    def hold(self, node: int, motion: int) -> None:
        """Hold one motion of a node: its row becomes that of the unit matrix."""
        row = 6 * node + motion
        flat = self.data.reshape(-1, self.data.shape[2])
        columns = np.arange(max(0, row - self.width), min(len(flat), row + self.width + 1))
        flat[columns, 2 * self.width + row - columns] = 0.0
        flat[row, 2 * self.width] = 1.0

    def solve(self, right: Array) -> Array:
        """Return the solutions ``(m, nodes, 6)`` of right-hand sides of the same shape."""
        many = len(right)
        flat = self.data.reshape(-1, self.data.shape[2])
        _, _, x, info = banded_solver()(
            self.width,
            self.width,
            flat.T,
            right.reshape(many, -1).T.copy(order="F"),
            overwrite_ab=1,
            overwrite_b=1,
        )
        if info:
            raise ArithmeticError("the stiffness is singular")
        solved: Array = x.T.reshape(right.shape)
        return solved


def assembled(cells: Linear, pairs: Pairs, press: Pressing | None) -> tuple[Band, Array]:
    """Return the stiffness of all nodes and what the wire's own forces leave unbalanced.

    The latter is ``(nodes, 6)``: what the iteration has to undo, loads left out.
    """
    n = len(cells.far)
    band = Band.empty(n + 1, pairs.reach if press is not None else 1)
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
    for x, row in enumerate(nodes):
        out[row] -= press.on_nodes[:, x]
        for y, column in enumerate(nodes):
            at = slice(column[0], column[-1] + 1) if follow else column
            band.add(at, int(column[0] - row[0]), -press.tangent[:, x, :, y])
