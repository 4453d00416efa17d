"""Where nothing fits: whether it would if the design could use the tolerance of the loads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from springgeo.sizing.job.need import Line, LoadPoint, lines_within
from springgeo.sizing.search.closed_form import proportions
from springgeo.sizing.search.factors import HANDBOOK
from springgeo.sizing.search.scan import block, scan
from springgeo.sizing.search.search import Found
from springgeo.text import quantity as q
from springgeo.text.shown import said

# shares of the tolerance that are tried, then how many times wider it is thought
SHARES = (0.25, 0.5, 0.75, 1.0)
WIDER = (2.0, 3.0)
WIDEST = 0.25
# a sum of shortfalls that no load within these tolerances makes good
HOPELESS = 1.0
# ratio of neighbouring indices less one, and how many end pairs, those that missed by least
STEP = 0.015
PAIRS = 2
ROWS = 512


class Way(NamedTuple):
    """A design that would pass: in words, and the greatest share by which a load moves."""

    text: str
    moved: float


def way_by_tolerance(found: Found) -> Way | None:
    """Return the least use of the loads' tolerance that was found to let something pass.

    Only end pairs that came near are looked at, in coarse steps: None is no proof.
    """
    points, nearest = found.job.load_points, found.obstacles.nearest
    if nearest is None or nearest[0] > HOPELESS:
        return None
    for words, lines in _attempts(points, found.job.use_tolerance):
        for line in lines:
            what = _first(found, line)
            if what is not None:
                asked = [p.load for p in sorted(points, key=lambda p: p.length)]
                moved = max(abs(line.F_1 / asked[0] - 1), abs(line.F_2 / asked[-1] - 1))
                loads = said(
                    "{load_1} at {length_1} and {load_2} at {length_2}",
                    load_1=q.force(line.F_1),
                    **q.lengths(5, length_1=line.L_1, length_2=line.L_2),
                    load_2=q.force(line.F_2),
                )
                text = said(
                    "use_tolerance: {reason}, for instance {loads} ({what})",
                    reason=words,
                    loads=loads,
                    what=what,
                )
                return Way(text, moved)
    return None


def _attempts(points: tuple[LoadPoint, ...], used: float) -> Iterator[tuple[str, tuple[Line, ...]]]:
    if not points:
        return
    for share in SHARES:
        if share > used:
            text = said(
                "the design would fit if it could use {share} of the tolerance of the loads, "
                "which leaves the rest to the maker: set it to {share}",
                share=q.percent(100 * share, places=0),
            )
            yield text, lines_within(points, share)[1:]
    for times in WIDER:
        wide = tuple(
            p.model_copy(update={"tolerance": min(times * p.tolerance, WIDEST)}) for p in points
        )
        if max(p.tolerance for p in wide) < WIDEST:
            text = said(
                "the design would fit if the tolerance of the loads were {times} times as wide and "
                "it could use all of it: widen it, and set this to 100 %",
                times=q.number(times, 6),
            )
            yield text, lines_within(wide, 1.0)[1:]


def _first(found: Found, line: Line) -> str | None:
    """Return the first candidate that passes on a line, in words."""
    job, wires = found.job, found.stock.at(line)
    low, high = job.choice.index
    C = np.geomspace(low, high, max(int(np.ceil(np.log(high / low) / STEP)), 1) + 1)
    for pair in _nearest_pairs(found):
        ends = job.end_pairs[pair]
        index = proportions(C, ends, found.factors.get(pair, HANDBOOK))
        for start in range(0, len(wires), ROWS):
            part = wires.part(slice(start, start + ROWS))
            seen = scan(block(job, line, part, index), (0, pair), start, None)
            if len(seen.row):
                row, column = int(seen.row[0]), int(seen.column[0])
                styles = " and ".join(dict.fromkeys(map(str, ends)))
                return said(
                    "{material} {d} wire, index {index}, {styles}",
                    material=part.material[row],
                    d=q.length(float(part.d[row, 0]), 4),
                    index=q.number(C[column], 3),
                    styles=styles,
                )
    return None


def _nearest_pairs(found: Found) -> list[int]:
    seen = found.obstacles
    near = [*seen.relax.values(), *([seen.nearest] if seen.nearest is not None else [])]
    ordered = sorted(near, key=lambda item: item[0])
    return list(dict.fromkeys(place.ends for _, place in ordered))[:PAIRS]
