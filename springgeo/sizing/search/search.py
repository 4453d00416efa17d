"""The search: every wire, end pair and index; a coarse grid, then a fine one along the front."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from springgeo.errors import refused
from springgeo.mechanics.value import Array, Mask
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.wires import Stock, Wires
from springgeo.sizing.search.between import starts_between
from springgeo.sizing.search.closed_form import proportions
from springgeo.sizing.search.factors import HANDBOOK, ByIndex
from springgeo.sizing.search.kinds import Kinds
from springgeo.sizing.search.pareto import Index, champions, front, not_beaten, weights
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.scan import Obstacles, Scanned, block, scan
from springgeo.trade.limits import limits

# candidates per block: the temporaries of one block fit a second-level cache
BLOCK = 16384
COARSE = 0.01  # ratio of neighbouring indices less one
FINE = 8  # steps between two coarse indices
NEAR = 0.03  # costs within this share of the front are looked at again
KINDS = 200  # designs kept beside the front: the best of so many wires and end pairs


@dataclass(frozen=True)
class Found:
    """The front: where each design stands and what it costs ``(n, k)``; what stood in the way.

    ``others`` are the best of each wire and end pair, best first, whether on the front or not.
    ``looked_at`` counts the candidates, ``passing`` those of the coarse grid that met every rule.
    """

    job: Job
    stock: Stock
    places: tuple[Place, ...]
    costs: Array
    obstacles: Obstacles
    looked_at: int
    passing: int
    factors: Mapping[int, ByIndex] = field(default_factory=dict)
    others: tuple[Place, ...] = ()
    other_costs: Array = field(default_factory=lambda: np.empty((0, 0)))

    @property
    def wires(self) -> Wires:
        """The wires by row: diameter, material, moduli; fatigue is that of the first line."""
        return self.stock.wires

    def one(self, place: Place) -> Wires:
        """Return the wire at a place, as it endures the cycle of its line."""
        line = self.job.lines[place.line]
        return self.stock.at(line).part(slice(place.wire, place.wire + 1))


def search(
    job: Job, factors: Mapping[int, ByIndex] | None = None, stock: Stock | None = None
) -> Found:
    """Return the Pareto set of a job; empty places and the obstacles where nothing fits.

    Parameters
    ----------
    job : Job
    factors : mapping of int to ByIndex
        Corrections of the handbook by the number of the end pair; none if left out.
    stock : Stock, optional
        That of an earlier search of the same job; looked up if left out.

    Raises
    ------
    SpecError
        No wire, or no end style, is left to choose from.
    """
    if stock is None:
        stock = Stock.of(job)
    if not job.end_pairs:
        raise refused("no-end", "choice.ends", "no end style is known; name one")
    low, high = job.choice.index
    factors = factors or {}
    seen = Obstacles()
    found = _pass(job, stock, factors, _grid(low, high), seen)
    if not found.places and job.is_open:
        between = starts_between(job, stock, factors, _grid(low, high))
        if between:
            job, seen = job.with_lines_from(between), Obstacles()
            found = _pass(job, stock, factors, _grid(low, high), seen)
    if not found.places:
        # reasons need to see what lies beyond the index asked for
        found = _pass(job, stock, factors, _grid(*limits()["index"]), seen, refine=False)
        _sharpen(found)
    return found


def _grid(low: float, high: float) -> Array:
    count = max(int(np.ceil(np.log(high / low) / COARSE)), 1) + 1
    return np.geomspace(low, high, count)


def _pass(
    job: Job,
    stock: Stock,
    factors: Mapping[int, ByIndex],
    C: Array,
    obstacles: Obstacles,
    refine: bool = True,
) -> Found:
    kept, points, sure = [], [], []
    kinds = Kinds.of(job, len(stock.wires))
    directions = weights(len(job.objectives))
    best = np.empty((0, len(job.objectives)))
    looked_at = passing = 0
    step = max(BLOCK // len(C), 1)
    for i, line in enumerate(job.lines):
        wires = stock.at(line)
        for j, styles in enumerate(job.end_pairs):
            index = proportions(C, styles, factors.get(j, HANDBOOK))
            for start in range(0, len(wires), step):
                part = wires.part(slice(start, start + step))
                seen = scan(block(job, line, part, index), (i, j), start, obstacles)
                looked_at += len(part) * len(C)
                passing += int(seen.passed.sum())
                keep = np.flatnonzero(not_beaten(seen.costs, best, NEAR))
                if seen.passed[keep].any():
                    best = champions(np.vstack([best, seen.costs[seen.passed]]), directions)
                ok = seen.passed
                kinds.see(i, j, seen.row[ok] + start, C[seen.column[ok]], seen.costs[ok])
                kept += _places(seen, keep, (i, j, start), C)
                points.append(seen.costs[keep])
                sure.append(seen.passed[keep])
    costs = np.vstack(points)
    fine = _Fine(job, stock, factors)
    found = Found(job, stock, (), best[:0], obstacles, looked_at, passing, factors)
    if not refine or not kept:
        return found
    kept, costs = _refined(fine, kept, costs, np.concatenate(sure))
    if not kept:
        return replace(found, looked_at=looked_at + fine.count)
    chosen = front(costs)
    places = tuple(kept[n] for n in chosen)
    others, other_costs = _best_kinds(fine, kinds)
    return replace(
        found,
        places=places,
        costs=costs[chosen],
        looked_at=looked_at + fine.count,
        others=others,
        other_costs=other_costs,
    )


def _sharpen(found: Found) -> None:
    """Look between the coarse indices around every obstacle: less may have to give there."""
    job, seen = found.job, found.obstacles
    steps = np.exp(np.linspace(-COARSE, COARSE, 2 * FINE + 1))
    for place in [place for _, place in seen.relax.values()]:
        C = np.clip(place.C * steps, *limits()["index"])
        pair = job.end_pairs[place.ends]
        index = proportions(C, pair, found.factors.get(place.ends, HANDBOOK))
        scan(
            block(job, job.lines[place.line], found.one(place), index), place[:2], place.wire, seen
        )


def _places(seen: Scanned, keep: Index, at: tuple[int, int, int], C: Array) -> list[Place]:
    i, j, start = at
    rows, columns = seen.row[keep] + start, C[seen.column[keep]]
    return [Place(i, j, r, c) for r, c in zip(rows.tolist(), columns.tolist(), strict=True)]


@dataclass
class _Fine:
    """Looks between the coarse indices; ``count`` is how many candidates it looked at."""

    job: Job
    stock: Stock
    factors: Mapping[int, ByIndex]
    count: int = 0

    def passing(self, places: Sequence[Place]) -> tuple[list[Place], Array]:
        """Return the passing candidates between the neighbours of places, and their costs."""
        job = self.job
        low, high = job.choice.index
        steps = np.exp(np.linspace(-COARSE, COARSE, 2 * FINE + 1))
        groups: dict[tuple[int, int], list[Place]] = {}
        for place in places:
            groups.setdefault(place[:2], []).append(place)
        found: list[Place] = []
        values = [np.empty((0, len(job.objectives)))]
        for (i, j), members in groups.items():
            wires = self.stock.at(job.lines[i])
            rows = np.array([p.wire for p in members])
            C = np.clip(np.array([[p.C] for p in members]) * steps, low, high)
            for start in range(0, len(rows), BLOCK // len(steps)):
                part = slice(start, start + BLOCK // len(steps))
                index = proportions(C[part], job.end_pairs[j], self.factors.get(j, HANDBOOK))
                made = block(job, job.lines[i], wires.part(rows[part]), index)
                seen = scan(made, (i, j), 0, None)
                self.count += C[part].size
                row, column = seen.row[seen.passed], seen.column[seen.passed]
                which, where = rows[part][row].tolist(), C[part][row, column].tolist()
                found += [Place(i, j, w, c) for w, c in zip(which, where, strict=True)]
                values.append(seen.costs[seen.passed])
        return found, np.vstack(values)


def _refined(
    fine: _Fine, places: list[Place], costs: Array, sure: Mask
) -> tuple[list[Place], Array]:
    """Return the passing candidates between the neighbours of the places worth a second look."""
    # only what passes may beat: the costs at a gap are those of designs that do not
    passed = costs[sure]
    again = np.flatnonzero(not_beaten(costs, passed[front(passed)], NEAR))
    return fine.passing([places[n] for n in again.tolist()])


def _best_kinds(fine: _Fine, coarse: Kinds) -> tuple[tuple[Place, ...], Array]:
    """Return the best of each wire and end pair, looked at between the coarse indices."""
    places, costs = fine.passing(coarse.best(KINDS)[0])
    kinds = Kinds.of(fine.job, len(fine.stock.wires))
    where = np.array(places).reshape(-1, 4)
    for i, j in dict.fromkeys(place[:2] for place in places):
        here = (where[:, 0] == i) & (where[:, 1] == j)
        kinds.see(i, j, where[here, 2].astype(np.intp), where[here, 3], costs[here])
    others, other_costs = kinds.best(KINDS)
    return tuple(others), other_costs
