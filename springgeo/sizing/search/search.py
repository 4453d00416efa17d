"""The search: every wire, end pair and index; a coarse grid, then a fine one along the front."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.mechanics.value import Array, Mask
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.wires import Wires, wires_of
from springgeo.sizing.search.closed_form import HANDBOOK, Factors, proportions
from springgeo.sizing.search.pareto import Index, champions, front, not_beaten, weights
from springgeo.sizing.search.scan import Obstacles, Place, Scanned, block, scan
from springgeo.trade.limits import limits

# candidates per block: the temporaries of one block fit a second-level cache
BLOCK = 16384
COARSE = 0.01  # ratio of neighbouring indices less one
FINE = 8  # steps between two coarse indices
NEAR = 0.03  # costs within this share of the front are looked at again


@dataclass(frozen=True)
class Found:
    """The front: where each design stands and what it costs ``(n, k)``; what stood in the way.

    ``looked_at`` counts the candidates, ``passing`` those of the coarse grid that met every rule.
    """

    job: Job
    wires: Wires
    places: tuple[Place, ...]
    costs: Array
    obstacles: Obstacles
    looked_at: int
    passing: int
    factors: Mapping[int, Factors] = field(default_factory=dict)


def search(
    job: Job, factors: Mapping[int, Factors] | None = None, wires: Wires | None = None
) -> Found:
    """Return the Pareto set of a job; empty places and the obstacles where nothing fits.

    Parameters
    ----------
    job : Job
    factors : mapping of int to Factors
        Corrections of the handbook by the number of the end pair; none if left out.
    wires : Wires, optional
        Those of an earlier search of the same job; looked up if left out.

    Raises
    ------
    SpecError
        No wire, or no end style, is left to choose from.
    """
    if wires is None:
        wires = wires_of(job, min(line.F_1 / line.F_2 for line in job.lines))
    if not job.choice.end_pairs:
        raise SpecError(error("no-end", "choice.ends", "no end style is known; name one"))
    low, high = job.choice.index
    factors = factors or {}
    seen = Obstacles()
    found = _pass(job, wires, factors, _grid(low, high), seen)
    if not found.places:
        # reasons need to see what lies beyond the index asked for
        found = _pass(job, wires, factors, _grid(*limits()["index"]), seen, refine=False)
        _sharpen(found)
    return found


def _grid(low: float, high: float) -> Array:
    count = max(int(np.ceil(np.log(high / low) / COARSE)), 1) + 1
    return np.geomspace(low, high, count)


def _pass(
    job: Job,
    wires: Wires,
    factors: Mapping[int, Factors],
    C: Array,
    obstacles: Obstacles,
    refine: bool = True,
) -> Found:
    kept, points, sure = [], [], []
    directions = weights(len(job.objectives))
    best = np.empty((0, len(job.objectives)))
    looked_at = passing = 0
    step = max(BLOCK // len(C), 1)
    for i, line in enumerate(job.lines):
        for j, styles in enumerate(job.choice.end_pairs):
            index = proportions(C, styles, factors.get(j, HANDBOOK))
            for start in range(0, len(wires), step):
                part = wires.part(slice(start, start + step))
                seen = scan(block(job, line, part, index), (i, j), start, obstacles)
                looked_at += len(part) * len(C)
                passing += int(seen.passed.sum())
                keep = np.flatnonzero(not_beaten(seen.costs, best, NEAR))
                if seen.passed[keep].any():
                    best = champions(np.vstack([best, seen.costs[seen.passed]]), directions)
                kept += _places(seen, keep, (i, j, start), C)
                points.append(seen.costs[keep])
                sure.append(seen.passed[keep])
    costs = np.vstack(points)
    if refine and kept:
        kept, costs, more = _refined(job, wires, factors, kept, costs, np.concatenate(sure))
        looked_at += more
    else:
        kept = []
    if not kept:
        return Found(job, wires, (), best[:0], obstacles, looked_at, passing, factors)
    chosen = front(costs)
    places = tuple(kept[n] for n in chosen)
    return Found(job, wires, places, costs[chosen], obstacles, looked_at, passing, factors)


def _sharpen(found: Found) -> None:
    """Look between the coarse indices around every obstacle: less may have to give there."""
    job, seen = found.job, found.obstacles
    steps = np.exp(np.linspace(-COARSE, COARSE, 2 * FINE + 1))
    for place in [place for _, place in seen.relax.values()]:
        C = np.clip(place.C * steps, *limits()["index"])
        pair = job.choice.end_pairs[place.ends]
        index = proportions(C, pair, found.factors.get(place.ends, HANDBOOK))
        one = found.wires.part(slice(place.wire, place.wire + 1))
        scan(block(job, job.lines[place.line], one, index), place[:2], place.wire, seen)


def _places(seen: Scanned, keep: Index, at: tuple[int, int, int], C: Array) -> list[Place]:
    i, j, start = at
    rows, columns = seen.row[keep] + start, C[seen.column[keep]]
    return [Place(i, j, r, c) for r, c in zip(rows.tolist(), columns.tolist(), strict=True)]


def _refined(
    job: Job,
    wires: Wires,
    factors: Mapping[int, Factors],
    places: list[Place],
    costs: Array,
    sure: Mask,
) -> tuple[list[Place], Array, int]:
    """Return the passing candidates between the neighbours of the places worth a second look."""
    # only what passes may beat: the costs at a gap are those of designs that do not
    passed = costs[sure]
    again = np.flatnonzero(not_beaten(costs, passed[front(passed)], NEAR))
    low, high = job.choice.index
    steps = np.exp(np.linspace(-COARSE, COARSE, 2 * FINE + 1))
    groups: dict[tuple[int, int], list[Place]] = {}
    for n in again.tolist():
        groups.setdefault(places[n][:2], []).append(places[n])
    found: list[Place] = []
    values, count = [], 0
    for (i, j), members in groups.items():
        rows = np.array([p.wire for p in members])
        C = np.clip(np.array([[p.C] for p in members]) * steps, low, high)
        for start in range(0, len(rows), BLOCK // len(steps)):
            part = slice(start, start + BLOCK // len(steps))
            index = proportions(C[part], job.choice.end_pairs[j], factors.get(j, HANDBOOK))
            seen = scan(block(job, job.lines[i], wires.part(rows[part]), index), (i, j), 0, None)
            count += C[part].size
            row, column = seen.row[seen.passed], seen.column[seen.passed]
            which, where = rows[part][row].tolist(), C[part][row, column].tolist()
            found += [Place(i, j, w, c) for w, c in zip(which, where, strict=True)]
            values.append(seen.costs[seen.passed])
    return found, np.vstack(values) if values else costs[:0], count
