"""What to say of a spring that is pulled off its axis, or is not what the textbook's line says."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from springgeo.findings import Finding, note
from springgeo.results.load_line import LoadPoints
from springgeo.results.loaded import CurvePoint, Lean
from springgeo.summary.advice.cure import field
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire
from springgeo.text import quantity as q
from springgeo.text.shown import Value, said
from springgeo.trade.practice import practice

# what is worth a remark: deg, and wire diameters
TILT, BOW, ASKEW = practice("lean_tilt"), practice("lean_bow"), practice("lean_askew")
# a curve is called straight from where its slope is within this share of its last
_STRAIGHT = 0.03


class Leans(NamedTuple):
    """Tilt and bow at the working points, pulled straight; whether that is as they are told."""

    found: Sequence[Lean]
    as_told: bool


def off_the_axis(
    book: Handbook,
    wire: AlongWire,
    leans: Leans,
    curve: Callable[[], Sequence[CurvePoint]],
) -> Iterator[Finding]:
    """Yield how far the body tilts and bows where its ends do not pull along its axis."""
    worst = max(leans.found, key=lambda x: (x.tilt, x.bow), default=None)
    most = max((x.bow for x in leans.found), default=0.0)
    if worst is None or (worst.tilt < TILT and most < BOW * book.model.body.wire_diameter):
        return
    told, knee = curve(), 1.1 * book.initial_tension.force
    last = told[-1]
    at = (
        next(p for p in told if p.load >= knee and abs(p.rate / last.rate - 1) <= _STRAIGHT)
        if last.load >= knee
        else last
    )
    held: dict[str, Value] = {
        "load": q.force(worst.load),
        "tilt": q.degrees(worst.tilt, 3),
        "bow": q.length(most, 3),
        "small": q.rate(wire.rate, 4),
        "straight": q.force(at.load, 3),
        "rate": q.rate(last.rate, 4),
    }
    # how a spring stands that is mounted otherwise is said of its mounting
    text = (
        said(
            "the ends do not pull along the body's axis: at {load} it tilts by {tilt}, and it bows "
            "by up to {bow}; it begins to give way at {small}, then the pull comes to run nearer "
            "to the axis, and from about {straight} on its line is straight at {rate}; leave room "
            "for the bow, and do not scale the stress from small loads",
            **held,
        )
        if leans.as_told
        else said(
            "pulled straight, the ends do not pull along the body's axis: at {load} it tilts by "
            "{tilt}, and it bows by up to {bow}; it begins to give way at {small}, then the pull "
            "comes to run nearer to the axis, and from about {straight} on its line is straight "
            "at {rate}; do not scale the stress from small loads",
            **held,
        )
    )
    yield note("pull-off-axis", "ends", text)


def out_of_line(book: Handbook) -> Iterator[Finding]:
    """Yield how much longer a spring is between contacts out of line than along its axis."""
    geometry = book.model.geometry
    a, b = geometry.pull_points
    more = geometry.askew
    if more < ASKEW * geometry.wire_diameter:
        return
    yield note(
        "contacts-out-of-line",
        "ends",
        said(
            "the contact points stand {aside} out of line beside the axis, so that the spring "
            "hangs askew: lengths inside hooks run from the one to the other, as between pins; "
            "free that is {more} longer than along the axis, where hooks and body add up to "
            "{height}",
            **q.lengths(4, aside=math.hypot(*(b - a)[:2].tolist()), more=more),
            height=q.length(geometry.height, 5),
        ),
    )


def off_the_straight_line(book: Handbook, line: LoadPoints) -> Iterator[Finding]:
    """Yield where the textbook's line is further from the curve than the load tolerance."""
    off = []
    for point, told in zip(book.points, line.along_the_wire[2:], strict=True):
        straight = book.straight_load(point.length)
        # below the initial tension the textbook's spring does not move
        if point.load > book.initial_tension.force:
            share = 100 * (straight / point.load - 1)
            if abs(share) > told.tolerance_percent:
                off.append((abs(share), share, straight, point, told.tolerance_percent))
    if off:
        _, share, straight, point, allowed = max(off, key=lambda x: x[0])
        yield note(
            "handbook-line-off",
            field(book, point),
            said(
                "at {length} the textbook's straight line has {straight}, {share} from the {load} "
                "of the load curve, more than the load tolerance of {allowed} %; lengths and "
                "loads here are the curve's",
                length=q.length(point.length, 4),
                **q.forces(4, straight=straight, load=point.load),
                share=q.signed_percent(share),
                allowed=q.number(allowed, 3),
            ),
        )
