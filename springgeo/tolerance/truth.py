"""Single springs off their nominal dimensions, answered by the wire in equilibrium."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from springgeo.errors import SpecError
from springgeo.mechanics.value import Array
from springgeo.results.handbook import WorkingPoint
from springgeo.specification import Spec
from springgeo.specification.change import changed
from springgeo.specification.end_names import SIDES
from springgeo.spring.model import SpringModel
from springgeo.summary.handbook import Handbook
from springgeo.summary.mounting import WireMounted
from springgeo.summary.ways import ways
from springgeo.summary.wire import PLACES, AlongWire
from springgeo.text.json_value import Json
from springgeo.tolerance.closed_form import Nominal
from springgeo.tolerance.repeated import Repeated

# margins in the order of `Nominal.margins`: by the handbook, then along the wire
MARGINS = tuple(name for name, _ in PLACES.values())
# the kind of an answer: the factor of repeated load
FATIGUE = "fatigue_factor"


class Asked(NamedTuple):
    """A working point: load, N, and length inside hooks, mm, of the nominal spring.

    ``by_length``: the length is given, and the load strays; else the load is given. ``judged``:
    its length says something of its load: it lies above the initial tension.
    """

    number: int
    load: float
    length: float
    by_length: bool
    judged: bool


class Answer(NamedTuple):
    """Something that is answered: ``load`` or ``length`` of a working point, ``rate``, a margin.

    ``to``: the rate is that between the lengths of two points; else that of small loads. Of the
    factor of repeated load the point of the lowest load; else the cycle starts where coils part.
    ``mounted``: a margin or a factor is that as mounted.
    """

    kind: str
    point: Asked | None = None
    place: str = ""
    wire: bool = False
    to: Asked | None = None
    mounted: bool = False


def asked_points(book: Handbook) -> tuple[Asked, ...]:
    """Return the working points of the summary."""
    lengths, tension = book.model.spec.service.lengths, float(book.initial_tension.force)
    return tuple(
        Asked(n, float(p.load), float(p.length), p.length in lengths, p.load > tension)
        for n, p in enumerate(book.points, 1)
    )


@dataclass(frozen=True)
class Truth:
    """Answers of single springs; those that differ by length alone share one equilibrium."""

    book: Handbook
    nominal: Nominal
    answers: tuple[Answer, ...]
    _wires: dict[tuple[float, ...], AlongWire] = field(default_factory=dict, repr=False)
    _there: dict[int, WireMounted | None] = field(default_factory=dict, repr=False)

    def at(self, off: Mapping[str, float]) -> Array:
        """Return the answers of a spring off by some deviations ``(n,)``; raises SpecError.

        Of a length the extension. Off by nothing, the answers are the summary's.
        """
        wire = self._wire(off)
        made = self.nominal.made({k: np.asarray(v) for k, v in off.items()})
        # at a given length the hooks stand by so much further apart than without load
        away = wire.book.model.geometry.length - float(made.L_0)
        strong = 1.0 + off.get("tensile_strength", 0.0) / self.nominal.S_ut
        return np.array([self._one(wire, x, away, strong, float(made.L_0)) for x in self.answers])

    def shown_at(self, off: Mapping[str, float]) -> Array:
        """Return the same, of a length the whole."""
        L_0 = float(self.nominal.made({k: np.asarray(v) for k, v in off.items()}).L_0)
        lengths = np.array([a.kind == "length" for a in self.answers])
        return self.at(off) + np.where(lengths, L_0, 0.0)

    def _one(self, wire: AlongWire, x: Answer, away: float, strong: float, L_0: float) -> float:
        curve = wire.curve
        if x.kind == "rate":
            return self._rate(wire, x, away)
        if x.kind == "free_length":
            return L_0
        p = x.point
        assert p is not None
        if wire.book is self.book and away == 0.0 and x.kind in ("load", "length"):
            return p.load if x.kind == "load" else p.length - L_0
        if x.kind == "length":
            return curve.length(p.load) - curve.free_length
        if x.kind == "load":
            return _load(wire, p, away)
        pull = self._pull_there if x.mounted else self._pull
        load = pull(wire, p, away)
        if x.kind == FATIGUE:
            tension = min(float(wire.book.initial_tension.force), load)
            low = tension if x.to is None else pull(wire, x.to, away)
            return self._factor(wire, x, (low, load), strong)
        # where its pins push the spring, the handbook is asked for a pull of that size
        return strong * self._margin(wire, x, load if x.wire else abs(load))

    def _mounted(self, wire: AlongWire) -> WireMounted:
        """Return a wire as mounted; those asked of are kept, so that each has its number."""
        if id(wire) not in self._there:
            place = wire.book.place
            self._there[id(wire)] = None if place is None else WireMounted(wire.book, place)
        found = self._there[id(wire)]
        assert found is not None
        return found

    def _pull_there(self, wire: AlongWire, p: Asked, away: float) -> float:
        """Return the load at a working point as mounted; let go it is the free spring."""
        if not p.by_length:
            return p.load
        if not p.judged:
            wire, away = self._wire({}), 0.0
        load = self._mounted(wire).place.solve_length(p.length + away).load
        # slack pulled straight it may be taut there
        return load if p.load > 0 else max(load, 0.0)

    def _stress(self, wire: AlongWire, x: Answer, load: float) -> float:
        there = self._mounted(wire) if x.mounted and load != 0 else wire
        way = ways(wire.book, there)["along the wire" if x.wire else "handbook"]
        return float(way.stress[x.place](load) or 0.0)

    def _pull(self, wire: AlongWire, p: Asked, away: float) -> float:
        nominal = not (p.by_length and p.judged) or (wire.book is self.book and away == 0.0)
        return p.load if nominal else _load(wire, p, away)

    def _rate(self, wire: AlongWire, x: Answer, away: float) -> float:
        if x.point is None or x.to is None:
            return float(wire.rate)
        apart = x.to.length - x.point.length
        return (_load(wire, x.to, away) - _load(wire, x.point, away)) / apart

    def _margin(self, wire: AlongWire, x: Answer, load: float) -> float:
        allow = float(getattr(self.book.allowable, x.place))
        stress = self._stress(wire, x, load)
        return allow / stress if stress else math.inf

    def _factor(
        self, wire: AlongWire, x: Answer, ends: tuple[float, float], strong: float
    ) -> float:
        repeated = self.nominal.repeated
        assert repeated is not None
        low, high = (self._stress(wire, x, load) for load in ends)
        return float(repeated.factor(x.place, low, high, strong * self.nominal.S_ut))

    def _wire(self, off: Mapping[str, float]) -> AlongWire:
        ruling = f"{self.nominal.rules}_diameter"
        keys = ["wire_diameter", ruling, "coils", "initial_tension", "shear_modulus"]
        keys += [f"bend_radius_{side}" for side in SIDES]
        key = tuple(off.get(k, 0.0) for k in keys)
        if not any(key):
            return self._kept(key, self.book)
        if key not in self._wires:
            return self._kept(key, Handbook(_model(self.book, self.nominal, off)))
        return self._wires[key]

    def _kept(self, key: tuple[float, ...], book: Handbook) -> AlongWire:
        return self._wires.setdefault(key, AlongWire(book))


def _load(wire: AlongWire, p: Asked, away: float) -> float:
    return wire.curve.load(max(p.length + away, wire.curve.free_length))


def _model(book: Handbook, nominal: Nominal, off: Mapping[str, float]) -> SpringModel:
    """Return a spring off its nominal dimensions, its coils as built whatever its loops' angle."""
    made = nominal.made({k: np.asarray(v) for k, v in off.items()})
    at_20 = book.model.material.modulus_share(book.model.spec.service.temperature)
    stiffer = 1.0 + off.get("shear_modulus", 0.0) / nominal.G
    values: dict[str, Json] = {
        "wire.diameter": float(made.d),
        "wire.shear_modulus": stiffer * nominal.G / at_20,
        "wire.elastic_modulus": stiffer * float(book.material.elastic_modulus) / at_20,
        "body.mean_diameter": float(made.D),
        "body.coils": nominal.N_b + off.get("coils", 0.0),
        "ends.angle": None,
        "ends.facing": None,
    }
    if not book.model.body.is_open:
        values["body.initial_tension"] = float(made.F_i)
    for h in nominal.hooks:
        if more := off.get(f"bend_radius_{h.side}", 0.0):
            values[f"ends.{h.side}.bend_radius"] = (h.r_2 or 0.0) + more
    spec: Spec = changed(book.model.spec, values)
    return SpringModel.of(spec, look=False)


def answers_of(book: Handbook, points: tuple[Asked, ...]) -> tuple[Answer, ...]:
    """Return what is answered: loads, lengths, rate, free length, margins, factors of fatigue."""
    judged = [p for p in points if p.judged]
    found = [Answer("load", p) for p in judged]
    found += [Answer("length", p) for p in judged if not p.by_length]
    between = len(judged) > 1 and judged[-1].length > judged[0].length
    found.append(Answer("rate", judged[0], to=judged[-1]) if between else Answer("rate"))
    found.append(Answer("free_length"))
    if points and points[-1].load > 0:
        last, margin = points[-1], book.points[-1].margin
        places = [name for name in MARGINS if _given(book.points[-1], name)]
        by_book = [n for n in places if getattr(margin, n)]
        found += [Answer("margin", last, n) for n in by_book]
        found += [Answer("margin", last, n, wire=True) for n in places]
        found += _repeated(book, points, {False: by_book, True: places})
        if book.place is not None:
            found += _as_mounted(found)
    return tuple(found)


def _as_mounted(found: Sequence[Answer]) -> list[Answer]:
    """Return the margins and factors as mounted.

    The handbook has another answer only where a given length makes the load another.
    """
    return [
        a._replace(mounted=True)
        for a in found
        if a.kind in ("margin", FATIGUE)
        and (a.wire or any(p is not None and p.by_length for p in (a.point, a.to)))
    ]


def _repeated(
    book: Handbook, points: tuple[Asked, ...], places: Mapping[bool, Sequence[str]]
) -> Iterator[Answer]:
    """Yield the factors of repeated load that are known of the nominal spring."""
    repeated = Repeated.of(book)
    if repeated is None:
        return
    start = points[0] if len(points) > 1 else None
    S_ut = float(book.material.tensile_strength)
    for wire, names in places.items():
        for name in names:
            if np.isfinite(repeated.factor(name, 1.0, 2.0, S_ut)):
                yield Answer(FATIGUE, points[-1], name, wire, start)


def _given(point: WorkingPoint, name: str) -> bool:
    return getattr(point, name) is not None


def refused(exc: SpecError) -> str:
    """Return the first reason of a refusal."""
    return exc.findings[0].line()
