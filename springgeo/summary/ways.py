"""The two ways to one answer: stress of each place, and length, as functions of the load.

Whatever asks how far or how often the spring may be pulled asks here, so that any load curve that
rises fits in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from springgeo.results.place import Place, Way
from springgeo.specification.end_names import SIDES
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import PLACES, AlongWire

WAYS: tuple[Way, Way] = ("handbook", "along the wire")
# load, N, to length inside hooks, mm; and to stress, MPa, None without such a place
LengthOfLoad = Callable[[float], float]
StressOfLoad = Callable[[float], float | None]


class Answers(NamedTuple):
    """One way to compute: what the stress of each place and the length are under a load."""

    stress: Mapping[str, StressOfLoad]
    length: LengthOfLoad


def ways(book: Handbook, wire: AlongWire) -> dict[Way, Answers]:
    """Return the handbook's way and the one along the wire."""
    by_book: dict[str, StressOfLoad] = {
        "body_shear": book.body_shear,
        "hook_bending": lambda f: _worst(book.hook_bending(f, s) for s in SIDES),
        "hook_torsion": lambda f: _worst(book.hook_torsion(f, s) for s in SIDES),
    }
    along: dict[str, StressOfLoad] = {
        name: (lambda f, r=region: wire.stress(r, f))  # type: ignore[misc]
        for region, (name, _) in PLACES.items()
    }
    return {
        "handbook": Answers(by_book, wire.length_within),
        "along the wire": Answers(along, wire.length_within),
    }


def where(book: Handbook, wire: AlongWire, name: str, way: Way, load: float) -> Place:
    """Return a place with the end at which this method finds it stressed harder."""
    if way == "along the wire":
        harder = wire.sides(load)
        sides = {key: harder[region] for region, (key, _) in PLACES.items()}
    else:
        sides = book.sides(load)
    return Place.of(name, sides.get(name))


def _worst(values: Iterable[float | None]) -> float | None:
    return max((v for v in values if v is not None), default=None)
