"""How far the spring may be pulled: where each place reaches its allowable, and its yield.

Needs no working point.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from functools import partial

from springgeo.equilibrium.between import Between
from springgeo.equilibrium.contact.parting import APART
from springgeo.errors import SpecError
from springgeo.mechanics import static_limits
from springgeo.results.facts import Reached
from springgeo.results.handbook import Stresses
from springgeo.results.place import Way as WayName
from springgeo.results.pull import Pull, PullPlace
from springgeo.summary import origin, solved
from springgeo.summary.handbook import Handbook
from springgeo.summary.reach.reaching import load_reaching
from springgeo.summary.ways import Answers, StressOfLoad, ways, where
from springgeo.summary.wire import PLACES, AlongWire
from springgeo.text.shown import said, word
from springgeo.worked.number import switched, told

Places = dict[str, PullPlace]
# the curve is known from this share below the least load that is looked for, and up to as much
# above the greatest; those are found in so many rounds
_BEYOND, _ROUNDS = 0.02, 4


def pull_facts(book: Handbook, wire: AlongWire) -> Pull:
    """Return loads and lengths at allowable and yield, and the travel stop to provide."""
    wire = wire.between()
    every = ways(book, wire)
    asked = _asked(book, wire, every["handbook"])
    found = {
        name: _places(book, way, asked if name == "along the wire" else ())
        for name, way in every.items()
    }
    stop = _first(found, "allowable")
    assert stop is not None  # a body is in every spring
    begins = _first(found, "yield_from")
    data = book.model.material.data.elastic_limits
    return Pull(
        handbook=found["handbook"],
        along_the_wire=found["along the wire"],
        travel_stop=stop[2].length,
        travel_stop_load=stop[2].load,
        place=where(book, wire, stop[0], stop[1], stop[2].load),
        way=stop[1],
        first_yield=None if begins is None else begins[2],
        first_yield_place=None
        if begins is None
        else where(book, wire, begins[0], begins[1], begins[2].load),
        first_yield_way=None if begins is None else begins[1],
        yield_source=word("not known")
        if data is None
        else said("{source} ({known})", source=word(data.source), known=word(data.known)),
    )


def _first(found: dict[WayName, Places], event: str) -> tuple[str, WayName, Reached] | None:
    """Return the place, and way, that comes to an event at the shortest length, and where."""
    every = [
        (name, way, at)
        for way, places in found.items()
        for name, facts in places.items()
        if (at := getattr(facts, event)) is not None
    ]
    # by length: the two ways differ in rate as well
    return min(every, key=lambda e: (e[2].length, e[2].load), default=None)


def _asked(book: Handbook, wire: AlongWire, by_book: Answers) -> tuple[float, ...]:
    """Return few loads, N, between which the curve is smooth and all places reach their limits.

    About the least of these alone where the wire cannot be drawn to the greatest.
    """
    near, curve, wound = wire.near, wire.curve, float(book.initial_tension.force)
    assert near is not None
    with switched(False):
        limits = [book.allowable, *(x for x in yield_stresses(book) if x is not None)]
        wanted = {
            region: [float(getattr(x, name)) for x in limits]
            for region, (name, _) in PLACES.items()
            if wire.per_newton(region)
        }
        loads = [
            load_reaching(by_book.stress[PLACES[region][0]], x, wound)
            for region, of_all in wanted.items()
            for x in of_all
        ]
        first, last = min(loads), max(loads)
        # of one newton, by the drawn shape; the curve is not followed up to there for it
        stressed, unit, load = {r: wire.per_newton(r) or 0.0 for r in wanted}, 1.0, 0.0
        for _ in range(_ROUNDS):
            loads = [x / stressed[r] * unit for r, of_all in wanted.items() for x in of_all]
            first, last = min(first, *loads), max(last, *loads)
            if last <= load:
                break
            unit = load = (1 + _BEYOND) * last
            _step_below(near, max((1 - _BEYOND) * first, APART * curve.pressing), load)
            stressed = {region: wire.stress(region, load) or 0.0 for region in wanted}
        first = max((1 - _BEYOND) * first, APART * curve.pressing)
        if not first < load:
            return (first,)
        try:
            near.cover(first, load)
        except SpecError:
            return (first,)
    return tuple(sorted(x for x in near.known if first <= x <= load))


def _step_below(near: Between, low: float, load: float) -> None:
    """Solve a state on the way to a load, N, that is asked for anyway: one leap is further."""
    if low < load:
        with suppress(SpecError):
            near.solve(low)


def _places(book: Handbook, way: Answers, asked: Sequence[float]) -> Places:
    wound, limits = book.initial_tension.force, yield_stresses(book)
    search = partial(load_reaching, asked=asked)
    found = {}
    for name, stress in way.stress.items():
        if stress(0.0) is None:
            continue

        def at(limit: float, stress: StressOfLoad = stress) -> Reached:
            load = solved.reaching(stress, limit, wound, search)
            return Reached(load=load, length=way.length(load))

        low, high = (None if pair is None else getattr(pair, name) for pair in limits)
        found[name] = PullPlace(
            allowable=at(getattr(book.allowable, name)),
            yield_from=None if low is None else at(low),
            yield_to=None if high is None else at(high),
        )
    return found


def yield_stresses(book: Handbook) -> tuple[Stresses | None, Stresses | None]:
    """Return the least and the greatest stress at which the wire yields, MPa; None if not known.

    The published elastic limits of the wire: in torsion for body and B, in tension for A.
    """
    limits = book.model.material.elastic_limits
    if limits is None:
        return None, None
    tension, torsion = limits
    low, high = (_yields(book, tension[i], torsion[i]) for i in (0, 1))
    return low, high


def _yields(book: Handbook, tension: float, torsion: float) -> Stresses:
    S_ut, block = book.material.tensile_strength, book.model.material.data.elastic_limits

    def at(x: float, kind: str) -> float:
        share = origin.data(x, block, "share", f"elastic limit in {kind} over tensile strength", "")
        stress = static_limits.allowable(share, S_ut)
        return told(stress, "formula", symbol="S_y", title=f"elastic limit in {kind}")

    return Stresses(
        body_shear=at(torsion, "torsion"),
        hook_bending=at(tension, "tension"),
        hook_torsion=at(torsion, "torsion"),
    )
