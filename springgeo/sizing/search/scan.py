"""Looks at a block of candidates: which pass every rule, what they cost, what stops the rest."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from springgeo.mechanics.value import Array, Mask
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.need import Line
from springgeo.sizing.job.wires import Wires
from springgeo.sizing.search.closed_form import Proportions, designs
from springgeo.sizing.search.constraints import Block
from springgeo.sizing.search.objectives import costs
from springgeo.sizing.search.pareto import Index
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.rules import rules_of, slacks

Count = npt.NDArray[np.int16]
Bits = npt.NDArray[np.int32]


@dataclass
class Obstacles:
    """What stands in the way, over all blocks seen.

    ``relax`` by rule: the least shortfall of a candidate that misses this rule alone, and where;
    ``nearest``: the least sum of shortfalls, and where.
    """

    relax: dict[str, tuple[float, Place]] = field(default_factory=dict)
    nearest: tuple[float, Place] | None = None

    def alone(self, name: str, shortfall: float, place: Place) -> None:
        """Note a candidate that misses one rule alone."""
        if name not in self.relax or shortfall < self.relax[name][0]:
            self.relax[name] = shortfall, place

    def least(self, shortfall: float, place: Place) -> None:
        """Note a candidate by its sum of shortfalls."""
        if self.nearest is None or shortfall < self.nearest[0]:
            self.nearest = shortfall, place


class Scanned(NamedTuple):
    """Candidates worth a second look: row and column in the block, costs; passed or only near."""

    row: Index
    column: Index
    costs: Array
    passed: Mask


def block(job: Job, line: Line, wires: Wires, index: Proportions) -> Block:
    """Return the block of every wire at every index."""
    return Block(job, line, wires, index, designs(line, wires, index))


def scan(b: Block, at: tuple[int, int], first: int, seen: Obstacles | None) -> Scanned:
    """Return the candidates of a block that pass, and those before a gap that may hold one.

    Between two neighbouring indices a slack hardly turns. So a gap is worth a second look if
    neither end of it passes but no rule is missed at both: the wire's band may lie within.

    Parameters
    ----------
    b : Block
    at : (int, int)
        Number of the line and of the end pair.
    first : int
        Number of the block's first wire.
    seen : Obstacles or None
        Filled where given; gaps are looked for only then.
    """
    shape = np.broadcast_shapes(b.wires.d.shape, b.index.C.shape)
    total: Array = np.zeros(shape)
    missed: Count = np.zeros(shape, dtype=np.int16)
    shut: Mask = np.zeros((shape[0], max(shape[1] - 1, 0)), dtype=bool)
    names = [rule.name for rule in rules_of(b.job)]
    for number, (rule, slack) in enumerate(slacks(b)):
        if slack.min() >= 0:
            continue
        total -= np.minimum(slack, 0.0)
        # one rule missed: 64 + its number, below 128; two: 128 or more
        bad = slack < 0
        missed += bad * np.int16(64 + number)
        if seen is not None and not rule.narrow:
            shut |= bad if bad.shape[-1] == 1 else bad[..., :-1] & bad[..., 1:]
    passed = missed == 0
    row, column = np.nonzero(passed)
    if seen is not None:
        _obstacles(b, seen, names, (total, missed), (*at, first))
        before, gap = np.nonzero(~(shut | passed[:, :-1] | passed[:, 1:]))
        row, column = np.r_[row, before], np.r_[column, gap]
    values = [np.broadcast_to(c, shape)[row, column] for c in costs(b)]
    return Scanned(row, column, np.stack(values, axis=-1), passed[row, column])


def missed(b: Block) -> Bits:
    """Return which rules the candidates of a block miss, one bit each, 0 where they pass."""
    found: Bits = np.zeros(np.broadcast_shapes(b.wires.d.shape, b.index.C.shape), dtype=np.int32)
    for number, (_, slack) in enumerate(slacks(b)):
        found |= (slack < 0) * np.int32(1 << number)
    return found


def _obstacles(
    b: Block,
    seen: Obstacles,
    names: list[str],
    found: tuple[Array, Count],
    at: tuple[int, int, int],
) -> None:
    total, missed = found
    C = np.broadcast_to(b.index.C, total.shape)

    def place(flat: int) -> Place:
        row = flat // total.shape[1]
        return Place(at[0], at[1], at[2] + row, float(C.flat[flat]))

    best = int(total.argmin())
    seen.least(float(total.flat[best]), place(best))
    single = np.flatnonzero((missed >= 64) & (missed < 128))
    which, short = missed.flat[single] - 64, total.flat[single]
    for number in np.unique(which):
        mine = np.flatnonzero(which == number)
        least = mine[short[mine].argmin()]
        seen.alone(names[number], float(short[least]), place(int(single[least])))
