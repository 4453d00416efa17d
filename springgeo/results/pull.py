"""How far the spring may be pulled."""

from __future__ import annotations

from springgeo.message import Text
from springgeo.results.facts import Facts, Reached
from springgeo.results.place import Place, Way


class PullPlace(Facts):
    """Where one place reaches its static allowable, and between which loads its wire yields."""

    allowable: Reached
    yield_from: Reached | None
    yield_to: Reached | None


class Pull(Facts):
    """How far the spring may be pulled, by the handbook and along the wire: N, mm.

    ``travel_stop``: the length at which the first place of either way reaches its allowable, the
    furthest that a stop may let it go; ``place`` and ``way`` say which. All of this is the straight
    pull, but for ``mounted``: the travel stop where the mating section mounts the spring, by the
    least of both; None where the pull there is straight. ``first_yield``: where the
    first place begins to yield by the least published elastic limit, which may be before the stop;
    None where no limit is known. None of this is about cycles.
    """

    handbook: dict[str, PullPlace]
    along_the_wire: dict[str, PullPlace]
    travel_stop: float
    travel_stop_load: float
    place: Place
    way: Way
    mounted: Reached | None = None
    first_yield: Reached | None
    first_yield_place: Place | None
    first_yield_way: Way | None
    yield_source: Text
