"""How far the spring may be pulled: where each place reaches its allowable, and its yield.

Needs no working point.
"""

from __future__ import annotations

from springgeo.mechanics import static_limits
from springgeo.results.facts import Reached
from springgeo.results.handbook import Stresses
from springgeo.results.place import Way as WayName
from springgeo.results.pull import Pull, PullPlace
from springgeo.summary import origin, solved
from springgeo.summary.handbook import Handbook
from springgeo.summary.ways import Answers, StressOfLoad, ways, where
from springgeo.summary.wire import AlongWire
from springgeo.text.shown import said, word
from springgeo.worked.number import told

Places = dict[str, PullPlace]
# a load is found to this share; stress is nearly proportional to it, so that few steps do
_FINE, _STEPS = 1e-7, 50
# the loads between which it is looked for stand so many times apart
_APART = 1.6


def pull_facts(book: Handbook, wire: AlongWire) -> Pull:
    """Return loads and lengths at allowable and yield, and the travel stop to provide."""
    found = {name: _places(book, way) for name, way in ways(book, wire).items()}
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


def _places(book: Handbook, way: Answers) -> Places:
    wound, limits = book.initial_tension.force, yield_stresses(book)
    found = {}
    for name, stress in way.stress.items():
        if stress(max(wound, 1.0)) is None:
            continue

        def at(limit: float, stress: StressOfLoad = stress) -> Reached:
            load = solved.reaching(stress, limit, wound, load_reaching)
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


def load_reaching(stress: StressOfLoad, limit: float, wound: float) -> float:
    """Return the load, N, at which a stress that rises with it reaches a limit, MPa.

    Parameters
    ----------
    stress : callable
        Stress, MPa, of a load, N; nearly proportional to it above ``wound``.
    limit : float
        MPa, above 0.
    wound : float
        The initial tension, N. A body that was wound at more than the limit cannot be pulled at
        all: the initial tension is returned then.
    """
    if (stress(0.0) or 0.0) >= limit:
        return wound
    # loads that all places and limits ask for alike, so that few states are computed
    low = max(wound, 1.0)
    while (stress(low) or 0.0) > limit:
        low /= _APART
    high = low * _APART
    while (stress(high) or limit) < limit:
        low, high = high, high * _APART
    f_low, f_high = stress(low) or 0.0, stress(high) or limit
    first, last = f_low / low, f_high / high
    load = low
    for _ in range(_STEPS):  # the stress of a newton taken to change evenly between
        new = limit / (first + (last - first) * (load - low) / (high - low))
        done, load = abs(new - load) <= _FINE * new, new
        if done:
            break
    slope = (f_high - f_low) / (high - low)
    for _ in range(_STEPS):
        new = load - ((stress(load) or limit) - limit) / slope
        done, load = abs(new - load) <= _FINE * new, new
        if done:
            break
    return load
