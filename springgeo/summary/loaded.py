"""The spring under its working loads, as its equilibrium has it."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from springgeo.equilibrium.contact.parting import APART, last_parts_at, parted
from springgeo.equilibrium.mounted.states import Mounted
from springgeo.equilibrium.solved import Solved
from springgeo.equilibrium.state.forces import reactions
from springgeo.errors import SpecError
from springgeo.results.handbook import WorkingPoint
from springgeo.results.loaded import CoilContacts, CurvePoint, PinForces, Pins, Rates
from springgeo.results.pull import Pull
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire
from springgeo.worked.number import told

# shares of the initial tension at which the curve is told where it is bent, to show the knee
_KNEE = (0.5, 1.25)
# how far the cubic between neighbours may be off, mm over the wire's diameter, by its measure; and
# how many points are added for it
_OFF, _MOST = 0.03, 12
# neighbours closer than this share of the whole are told once
_CLOSE = 2e-3


def curve_points(book: Handbook, pull: Callable[[], Pull]) -> tuple[CurvePoint, ...]:
    """Return the load curve from the free length to the end of the stroke.

    To the longest working point and over-travel; without working points to the load at which the
    first stress along the wire reaches its allowable.
    """
    curve, tension = book.curve, float(book.initial_tension.force)
    top = float(stroke_end(book, pull))
    points = {float(p.load): p.length for p in book.points if p.load > 0}
    loads = {x for x in (*points, tension, top) if 0 < x <= top}
    found = _told(book, points, loads, top)
    off = _OFF * book.model.body.wire_diameter
    bent = [(p.load, q.load) for p, q in pairwise(found) if _off(p, q) >= off]
    knee = {x for x in (share * tension for share in _KNEE) if any(a < x < b for a, b in bent)}
    if knee:
        loads |= knee
        found = _told(book, points, loads, top)
    for _ in range(_MOST if len(found) > 1 else 0):
        # through the knee a state costs ten times as much, and the lengths are short
        most, load = max(
            (
                0.0 if q.load <= APART * curve.pressing else _off(p, q),
                (max(p.load, curve.pressing) + q.load) / 2,
            )
            for p, q in pairwise(found)
        )
        if most < off:
            break
        loads.add(load)
        found = _told(book, points, loads, top)
    return found


def _told(
    book: Handbook, points: dict[float, float], loads: set[float], top: float
) -> tuple[CurvePoint, ...]:
    """Return rest, the working points, and other loads, N, of the curve up to one."""
    curve = book.curve
    coils = book.model.turns - 1 if len(curve.balance.rod.pairs) else 0.0
    found = [CurvePoint(load=0.0, length=curve.free_length, rate=curve.rate(0.0))]
    tiny = [(x, y) for x, y in points.items() if x < curve.least]
    found += [CurvePoint(load=x, length=y, rate=found[0].rate) for x, y in tiny]
    for at in (curve.solve(x) for x in sorted(loads) if x >= curve.least):
        near = [x for x in (*points, top, found[-1].load) if abs(x - at.load) <= _CLOSE * top]
        if at.load <= top and (at.load in points or at.load == top or not near):
            length = points.get(at.load, curve.free_length + at.extension)
            apart = coils * parted(curve, at) if coils else 0.0
            found.append(
                CurvePoint(load=at.load, length=length, rate=1 / at.compliance, parted=apart)
            )
    return tuple(found)


def _off(p: CurvePoint, q: CurvePoint) -> float:
    """Return how far the slopes at two neighbours are from the chord between them, mm."""
    step, rise = float(q.load) - p.load, float(q.length) - float(p.length)
    return max(abs(step / p.rate - rise), abs(step / q.rate - rise)) / 8


def stored(curve: tuple[CurvePoint, ...], length: float) -> float:
    """Return the area under the told curve up to the length of one of its points, N mm."""
    energy, top = 0.0, curve[0].load
    for p, q in pairwise(curve):
        if q.length > length:
            break
        step, top = float(q.length) - float(p.length), q.load
        energy += step * (float(p.load) + q.load) / 2 - step**2 * (q.rate - p.rate) / 12
    return told(
        energy,
        "solved",
        symbol="W",
        title="area under the load curve up to the highest load",
        unit="N mm",
        operands={"F": top, "L": length},
        source="trapezia of the told curve, corrected by its slopes",
        known="derived",
    )


def stroke_end(book: Handbook, pull: Callable[[], Pull]) -> float:
    """Return the load, N, up to which the curve is told."""
    mating = book.model.spec.mating
    if not book.points or book.points[-1].load <= 0:
        least = min(place.allowable.load for place in pull().along_the_wire.values())
        return max(2 * book.initial_tension.force, least)
    last = book.points[-1]
    if mating is None or not mating.over_travel > 0:
        return last.load
    try:
        return book.curve.load(float(last.length) + mating.over_travel)
    except SpecError:  # nothing pulls it so far
        return last.load


def rates_facts(book: Handbook, wire: AlongWire) -> Rates:
    """Return the rates, each by what it is."""
    # below the initial tension hooks give alone: a point there tells nothing of the rate
    points = [p for p in book.points if p.load > book.initial_tension.force]
    between = None
    if len(points) > 1:
        first, last = points[0], points[-1]
        if last.length > first.length:
            between = (last.load - first.load) / (last.length - first.length)
    return Rates(handbook=book.rate, small_load=wire.rate, between_points=between)


def contact_facts(book: Handbook) -> CoilContacts | None:
    """Return how the coils press; None for a spring that is not wound closed with tension."""
    curve = book.curve
    if not curve.pressing or not len(curve.balance.rod.pairs):
        return None
    coils = book.model.turns - 1
    shares = [parted(curve, curve.solve(float(p.load))) if p.load > 0 else 0.0 for p in book.points]
    return CoilContacts(
        pressing_free=curve.pressing,
        last_parts_at=last_parts_at(curve),
        parted=tuple(coils * x for x in shares),
        coils=coils,
    )


def loaded(book: Handbook, place: Mounted | None = None) -> list[WorkingPoint]:
    """Return the working points, those without load left out.

    With ``place``, those without load as mounted: at a length where the straight pull leaves it
    slack a spring can be taut between pins that stand aside.
    """
    return [p for p in book.points if p.load > 0 or _is_taut(book, place, p)]


def _is_taut(book: Handbook, place: Mounted | None, point: WorkingPoint) -> bool:
    if place is None or not is_given(book, point):
        return False
    return as_mounted(book, place, point).load > 0


def is_given(book: Handbook, point: WorkingPoint) -> bool:
    """Return whether a working point is that of a given length, not of a given load."""
    return float(point.length) in book.given_lengths


def as_mounted(book: Handbook, place: Mounted, point: WorkingPoint) -> Solved:
    """Return a working point as mounted: at its length where that is given, else at its load."""
    if is_given(book, point):
        return place.solve_length(float(point.length))
    return place.solve(float(point.load))


def pins_facts(book: Handbook, place: Mounted | None) -> Pins:
    """Return what the pins do beside the straight pull, as mounted if that is not straight."""
    curve = book.curve
    found = [
        reactions(curve.balance.rod, curve.solve(float(p.load)).shape)
        if place is None
        else place.pins(as_mounted(book, place, p))
        for p in loaded(book, place)
    ]
    zero = [0.0] * (len(book.points) - len(found))
    ends = [
        PinForces(
            side_force=(*zero, *(float(np.hypot(*pin.force[:2])) for pin in end)),
            moment=(*zero, *(float(np.linalg.norm(pin.moment)) for pin in end)),
        )
        for end in (zip(*found, strict=True) if found else ((), ()))
    ]
    return Pins(first=ends[0], second=ends[1])
