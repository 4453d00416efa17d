"""Where nothing fits an energy: whether something does between the load lines looked at.

Along the lines of an energy every rule's slack rises or falls throughout, for wire and index given.
So something may pass between two lines only where no rule is missed on both of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from springgeo.mechanics.value import Array, Mask
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.need import Line
from springgeo.sizing.job.wires import Stock
from springgeo.sizing.search.closed_form import Proportions, proportions
from springgeo.sizing.search.factors import HANDBOOK, ByIndex
from springgeo.sizing.search.pareto import Index
from springgeo.sizing.search.rules import rules_of
from springgeo.sizing.search.scan import Bits, block, missed

# how often the space between two lines is halved, wires looked at together, and lines found that
# are enough
HALVINGS, ROWS, ENOUGH = 6, 128, 24


def starts_between(
    job: Job, stock: Stock, factors: Mapping[int, ByIndex], C: Array
) -> tuple[float, ...]:
    """Return loads at the shorter length, N, of lines on which something passes; none where none.

    Parameters
    ----------
    job : Job
        Of an energy whose load is open.
    stock : Stock
    factors : mapping of int to ByIndex
        By the number of the end pair.
    C : array (m,)
        The indices looked at.
    """
    found: set[float] = set()
    for pair, ends in enumerate(job.end_pairs):
        index = proportions(C, ends, factors.get(pair, HANDBOOK))
        for first in range(0, len(stock.wires), ROWS):
            rows = np.arange(first, min(first + ROWS, len(stock.wires)))
            found.update(_Between(job, stock, index, found).of(rows))
            if len(found) >= ENOUGH:
                return tuple(sorted(found))
    return tuple(sorted(found))


class _Between:
    """Looks between lines for wires at the indices of one end pair; ``known`` are found already."""

    def __init__(self, job: Job, stock: Stock, index: Proportions, known: set[float]) -> None:
        assert job.energy is not None
        self.job, self.energy = job, job.energy
        self.stock, self.index, self.known = stock, index, known
        # what a narrow rule passes may lie between two lines that miss it
        rules = enumerate(rules_of(job))
        self.wide = np.int32(sum(1 << number for number, rule in rules if not rule.narrow))

    def of(self, rows: Index) -> Iterator[float]:
        lines = self.job.lines
        seen = [self.missed(line, rows) for line in lines]
        for n in range(len(lines) - 1):
            yield from self.halved((lines[n].F_1, lines[n + 1].F_1), rows, (seen[n], seen[n + 1]))

    def halved(
        self, span: tuple[float, float], rows: Index, at: tuple[Bits, Bits], halvings: int = 0
    ) -> Iterator[float]:
        """Yield the first load found between two whose line something passes on."""
        open_ = _open(at[0] & self.wide, at[1] & self.wide)
        if halvings == HALVINGS or not open_.any():
            return
        rows, low, high = rows[open_], at[0][open_], at[1][open_]
        start = sum(span) / 2
        middle = self.missed(self.energy.line(start), rows)
        if start in self.known or (middle == 0).any():
            yield start
            return
        yield from self.halved((span[0], start), rows, (low, middle), halvings + 1)
        yield from self.halved((start, span[1]), rows, (middle, high), halvings + 1)

    def missed(self, line: Line, rows: Index) -> Bits:
        return missed(block(self.job, line, self.stock.at(line).part(rows), self.index))


def _open(low: Bits, high: Bits) -> Mask:
    """Say of which wires no rule is missed at all four corners between two lines and indices."""
    both = low & high
    if both.shape[1] > 1:
        both = both[:, :-1] & both[:, 1:]
    return np.asarray((both == 0).any(axis=1))
