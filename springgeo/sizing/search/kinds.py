"""The best design of every wire and end pair: choices beside the front, where that is short."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.pareto import Index
from springgeo.sizing.search.place import Place


def weighted(job: Job, costs: Array) -> Array:
    """Return the weighted mean of the costs' logarithms ``(n,)``: what ranks designs."""
    weight = np.array([job.weights.get(name, 1.0) for name in job.objectives])
    return np.asarray(np.log(costs) @ weight / max(weight.sum(), 1e-12))


@dataclass
class Kinds:
    """Of each end pair and wire the design that ranks first, over all lines seen."""

    job: Job
    score: Array  # (pairs, wires), infinite where nothing passed
    costs: Array  # (pairs, wires, objectives)
    index: Array  # (pairs, wires)
    line: Array  # (pairs, wires)

    @classmethod
    def of(cls, job: Job, wires: int) -> Kinds:
        """Return an empty collection."""
        shape = len(job.end_pairs), wires
        empty = np.full(shape, np.inf)
        return cls(
            job, empty, np.ones((*shape, len(job.objectives))), np.ones(shape), np.zeros(shape)
        )

    def see(self, line: int, ends: int, wire: Index, C: Array, costs: Array) -> None:
        """Take passing designs of one line and end pair into account: columns ``(n,)``."""
        if not len(wire):
            return
        score = weighted(self.job, costs)
        order = np.lexsort((score, wire))
        wire = wire[order]
        leads = np.r_[True, wire[1:] != wire[:-1]]
        rows, first = wire[leads], order[leads]
        better = score[first] < self.score[ends, rows]
        rows, first = rows[better], first[better]
        self.score[ends, rows], self.costs[ends, rows] = score[first], costs[first]
        self.index[ends, rows], self.line[ends, rows] = C[first], line

    def best(self, most: int) -> tuple[list[Place], Array]:
        """Return up to ``most`` kinds, best first, and their costs ``(n, k)``."""
        order = np.argsort(self.score, axis=None, kind="stable")[:most]
        ends, wire = np.unravel_index(order, self.score.shape)
        seen = np.isfinite(self.score[ends, wire])
        ends, wire = ends[seen], wire[seen]
        rows = zip(
            self.line[ends, wire].astype(int).tolist(),
            ends.tolist(),
            wire.tolist(),
            self.index[ends, wire].tolist(),
            strict=True,
        )
        return [Place(*row) for row in rows], self.costs[ends, wire]
