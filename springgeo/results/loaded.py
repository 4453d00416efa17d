"""What the summary says of the spring under load: its curve, rates, coils, pins and lean."""

from __future__ import annotations

from itertools import pairwise

from springgeo.results.facts import Facts


class CurvePoint(Facts):
    """A point of the load curve: N, mm inside hooks, the slope there, N/mm.

    ``parted``: how many coils have parted from the next.
    """

    load: float
    length: float
    rate: float
    parted: float = 0.0


class Rates(Facts):
    """Rates by what they are, N/mm.

    ``handbook``: the textbook's, of a straight line. ``small_load``: of the shape as drawn with
    its coils apart. ``between_points``: from the lowest working point above the initial
    tension to the highest, along the load curve, None where they are one.
    """

    handbook: float
    small_load: float
    between_points: float | None


class CoilContacts(Facts):
    """How closed coils press on each other: N, and coils.

    ``pressing_free``: the pull against which neighbouring coils press in the free spring.
    ``last_parts_at``: the load at which the last pair parts. ``parted``: how many coils have parted
    from the next at each working point; ``coils`` is all of them.
    """

    pressing_free: float
    last_parts_at: float | None
    parted: tuple[float, ...]
    coils: float


class PinForces(Facts):
    """What a pin does to the spring beside the straight pull, at each working point: N, N mm."""

    side_force: tuple[float, ...]
    moment: tuple[float, ...]


class Pins(Facts):
    """The pins of the first and the second end."""

    first: PinForces
    second: PinForces


class Lean(Facts):
    """How the body stands at a working point.

    ``tilt``, deg: between the line of pull, from the point of pull of the one end to that of the
    other, and the line through the middles of the body's outermost turns; ``bow``, mm: the furthest
    that a turn's middle lies from that line. As mounted, where that is not the straight pull.
    """

    load: float
    tilt: float
    bow: float


def length_between(curve: tuple[CurvePoint, ...], load: float) -> float:
    """Return the length, mm, at a load, N, between points of a curve; the last one's beyond.

    The cubic with the curve's own slopes, held so that it rises everywhere.
    """
    if load >= curve[-1].load:
        return curve[-1].length
    at = next(i for i, p in enumerate(curve) if p.load > load) - 1
    p, q = curve[max(at, 0)], curve[max(at, 0) + 1]
    step = q.load - p.load
    t, rise = (load - p.load) / step, q.length - p.length
    first, last = (min(step / x.rate, 3 * rise) for x in (p, q))
    cubic = t * (t - 1) * ((1 - t) * (rise - first) + t * (last - rise))
    return p.length + t * rise + cubic


def traced(
    curve: tuple[CurvePoint, ...], last: float, steps: int = 6
) -> tuple[tuple[float, float], ...]:
    """Return (mm, N) to draw a curve through, up to a load, N; so many steps between points."""
    ends = [*(p.load for p in curve if p.load < last), min(last, curve[-1].load)]
    loads = [p + (q - p) * i / steps for p, q in pairwise(ends) for i in range(steps)]
    return tuple((length_between(curve, x), x) for x in (*loads, ends[-1]))
