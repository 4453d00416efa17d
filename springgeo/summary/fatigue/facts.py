"""The cycle, or the spectrum of cycles, judged by the one fatigue model of ``mechanics.life``.

Beside the model's factor stand the books' own figures: Zimmerli's endurance strengths and factors
(Shigley 10-28 ff., Example 10-7), the repeated-load table with the endurance strength it amounts
to (Table 10-8), and yielding of the body along the load line that starts at the initial tension.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from springgeo.mechanics import endurance, fatigue, life, spectrum
from springgeo.mechanics.life import Endured
from springgeo.mechanics.value import Array, Value
from springgeo.message import Message
from springgeo.results.fatigue import Fatigue, FatiguePlace, LifeStrength, LoadRange
from springgeo.results.place import Way
from springgeo.summary.asked_points import Given
from springgeo.summary.fatigue.endured import endured_places, zimmerli_holds
from springgeo.summary.handbook import Handbook
from springgeo.summary.mounting import WireMounted
from springgeo.summary.ways import WAYS, StressOfLoad, ways, where
from springgeo.summary.wire import AlongWire
from springgeo.text.shown import said, together, word
from springgeo.worked.number import number, told


@dataclass(frozen=True)
class Cycle:
    """Ranges of load with their counts, and what the wire endures.

    ``there`` is the spring as mounted, if the loads are those that it bears there.
    """

    book: Handbook
    there: AsMounted | None = None

    @cached_property
    def ranges(self) -> tuple[LoadRange, ...]:
        """The spectrum, or the one range from the lowest to the highest working point."""
        service, book = self.book.model.spec.service, self.book
        if service.spectrum:
            return tuple(
                LoadRange(load_low=self._load(low), load_high=self._load(high), count=count)
                for low, high, count in book.ranges
            )
        ends = (book.points[0].load, book.points[-1].load)
        low, high = ends if self.there is None else self.there.ends
        if len(book.points) == 1:
            low = min(book.initial_tension.force, high)
        return (LoadRange(load_low=low, load_high=high, count=service.cycles),)

    def _load(self, end: Given) -> float:
        """Return the load, N, at an end of a range; let go it is the free spring."""
        load, length = end
        if self.there is None or length is None:
            return load
        there = self.there.wire.load_at(length)
        # slack pulled straight it may be taut there
        return there if load > 0 else max(there, 0.0)

    @property
    def cycles(self) -> float:
        """All cycles, infinite without a count."""
        return sum(math.inf if r.count is None else r.count for r in self.ranges)

    @property
    def is_spectrum(self) -> bool:
        """Whether there is more to judge than one range."""
        return bool(self.book.model.spec.service.spectrum)

    @cached_property
    def places(self) -> dict[str, Endured]:
        """What body, A and B endure."""
        book = self.book
        d, peened = book.model.body.wire_diameter, book.model.spec.service.peened
        return endured_places(book.model.material, d, book.material.tensile_strength, peened)


def fatigue_facts(
    book: Handbook, wire: AlongWire, there: AsMounted | None = None
) -> Fatigue | None:
    """Return the answer, or None for a static duty or a specification without loads.

    ``there`` is the spring as mounted, where that is not the straight pull.
    """
    service = book.model.spec.service
    if service.duty == "static" or not book.points:
        return None
    cycle, every = Cycle(book), ways(book, wire)
    answers = {(name, False): _places(cycle, every[name].stress) for name in WAYS}
    if there is not None:
        answers |= {(way, True): places for way, places in _mounted(cycle, wire, there).items()}
    least = _governing(answers)
    name, way, margin, as_mounted = least or ("none", None, None, False)
    stressed: AlongWire = wire
    if as_mounted and there is not None:
        stressed, cycle = there.wire, Cycle(book, there)
    high = max(r.load_high for r in cycle.ranges)
    return Fatigue(
        load_low=min(r.load_low for r in cycle.ranges),
        load_high=high,
        cycles=_number(cycle.cycles),
        spectrum=cycle.ranges if cycle.is_spectrum else (),
        life_class=_life_class(cycle),
        method=_method(cycle) if there is None else _method_mounted(cycle),
        handbook=answers["handbook", False],
        along_the_wire=answers["along the wire", False],
        mounted=answers.get(("along the wire", True), {}),
        mounted_handbook=answers.get(("handbook", True), {}),
        governing=f"{name} ({way}{', as mounted' if as_mounted else ''})" if way else name,
        margin=margin,
        place=None if way is None else where(book, stressed, name, way, high),
        way=way,
        as_mounted=as_mounted,
    )


class AsMounted(NamedTuple):
    """A spring as mounted: its wire, and its lowest and highest load there, N."""

    wire: WireMounted
    ends: tuple[float, float]


def _places(cycle: Cycle, stresses: Mapping[str, StressOfLoad]) -> dict[str, FatiguePlace]:
    found = ((name, _place(cycle, name, stress)) for name, stress in stresses.items())
    return {name: place for name, place in found if place is not None}


def _mounted(
    straight: Cycle, wire: AlongWire, there: AsMounted
) -> dict[Way, dict[str, FatiguePlace]]:
    """Return the places as mounted between the ends of its ranges.

    By the handbook, which knows of loads alone, where given lengths make them others than pulled
    straight. Let go it is the free spring; a load line begins at the initial tension of the
    straight pull.
    """
    book, cycle = straight.book, Cycle(straight.book, there)
    free, held = (ways(book, x)["along the wire"].stress for x in (wire, there.wire))
    ends = {x for r in cycle.ranges for x in (r.load_low, r.load_high) if x != 0}

    def either(name: str) -> StressOfLoad:
        return lambda load: (held if load in ends else free)[name](load)

    found: dict[Way, dict[str, FatiguePlace]] = {
        "along the wire": _places(cycle, {name: either(name) for name in held})
    }
    if cycle.ranges != straight.ranges:
        found["handbook"] = _places(cycle, ways(book, wire)["handbook"].stress)
    return found


def _place(cycle: Cycle, name: str, stress: StressOfLoad) -> FatiguePlace | None:
    found = [(stress(r.load_low), stress(r.load_high)) for r in cycle.ranges]
    ends = [_rising(a, b) for a, b in found if a is not None and b is not None]
    if len(ends) < len(found):
        return None
    low, high = (np.array(x, dtype=float) for x in zip(*ends, strict=True))
    s_a = np.asarray(fatigue.alternating(high, low))
    s_m = np.asarray(fatigue.mean(high, low))
    place, N = cycle.places[name], cycle.cycles
    # of a spectrum, the range that alone would come out worst for as many cycles
    alone = life.factor(s_a, s_m, N, place)
    worst = int(np.argmax(high) if np.isnan(alone).any() else np.argmin(alone))
    s_min, s_max = ends[worst]
    a, m = number(fatigue.alternating(s_max, s_min)), number(fatigue.mean(s_max, s_min))
    factor, decides, used = _factor(cycle, place, s_a, s_m, (a, m))
    S_e, S_r = life.lines(N, place), _number(life.S_r_at(N, place, 0))
    in_table = len(place.lives) > 0 and place.lives[-1] >= N and a + m > 0
    return FatiguePlace(
        alternating=a,
        mean=m,
        **_zimmerli(cycle.book, name, a, m),
        yielding=_yielding(cycle.book, a, m, stress) if name == "body_shear" else None,
        life_table=S_r / (a + m) if in_table and S_r is not None else None,
        repeated_strength=S_r,
        life_gerber=_number(S_e.gerber),
        life_goodman=_number(S_e.goodman),
        ultimate=number(place.S_u),
        static_strength=number(place.S_y),
        by_life=tuple(_by_life(place, a, m)),
        damage=used,
        factor=factor,
        decides=decides,
    )


def _rising(low: float, high: float) -> tuple[float, float]:
    """Return the stresses of a cycle, MPa, the greater last and of positive sign.

    As mounted the lowest load may stress a place more than the highest, or push it.
    """
    a, b = (low, high) if abs(low) <= abs(high) else (high, low)
    return (-a, -b) if b < 0 else (a, b)


def _factor(
    cycle: Cycle, place: Endured, s_a: Array, s_m: Array, one: tuple[float, float]
) -> tuple[float | None, str, float | None]:
    """Return the model's factor, what decides it, and Miner's sum of a spectrum."""
    static = float(place.S_y) / float(np.max(s_a + s_m)) if np.any(s_a + s_m > 0) else math.inf
    if cycle.is_spectrum:
        counts = np.array([r.count for r in cycle.ranges], dtype=float)
        found = _number(spectrum.spectrum_factor(s_a, s_m, counts, place))
        if found is None:
            return None, "not known", None
        used = _number(spectrum.damage(1.0, s_a, s_m, counts, place))
        found, used = _by_miner(cycle, place, found, used, one)
        return found, "static" if found >= static * (1 - 1e-9) else "spectrum", used
    words = ("gerber", "goodman", "static")
    every = [number(x) for x in life.factors(*one, cycle.cycles, place)]
    if any(math.isnan(x) for x in every):
        return None, "not known", None
    least = min(every)
    return _number(least), words[every.index(least)], None


def _by_miner(
    cycle: Cycle, place: Endured, factor: float, used: float | None, worst: tuple[float, float]
) -> tuple[float, float | None]:
    """Return factor and damage of a spectrum with how they were found."""
    about = {
        "source": "Miner's rule, Shigley sec. 6-15",
        "known": "from memory",
        "operands": {"s_a": worst[0], "s_m": worst[1], "S_u": place.S_u, "S_y": place.S_y},
        "notes": (
            *(
                f"range {i + 1}: {r.load_low:.6g} to {r.load_high:.6g} N, {r.count:g} times"
                for i, r in enumerate(cycle.ranges)
            ),
            "each range uses up its count over the life that it is endured for; s_a and s_m are "
            "those of the range that alone would come out worst",
        ),
    }
    title = "by how much the stresses may grow until Miner's sum is 1, not above the static margin"
    grown = told(factor, "solved", symbol="n_f", title=title, **about)
    if used is None:
        return grown, None
    return grown, told(used, "solved", symbol="D_M", title="Miner's sum, count over life", **about)


def _zimmerli(book: Handbook, name: str, s_a: float, s_m: float) -> dict[str, float | None]:
    """Return the books' figures for endless life: S_e and n_f by Gerber and by Goodman."""
    found: dict[str, float | None] = dict.fromkeys(
        ("endurance_gerber", "endurance_goodman", "gerber", "goodman")
    )
    if not zimmerli_applies(book):
        return found
    S_ut = book.material.tensile_strength
    S_su = number(endurance.S_su(S_ut))
    S_sa, S_sm = endurance.zimmerli(book.model.spec.service.peened)
    bending = name == "hook_bending"
    for line, S_e_of, n_f_of in (
        ("gerber", endurance.S_e_gerber, fatigue.n_f_gerber),
        ("goodman", endurance.S_e_goodman, fatigue.n_f_goodman),
    ):
        S_e = number(S_e_of(S_sa, S_sm, S_su))
        S_e = number(endurance.S_e_bending(S_e)) if bending else S_e
        found[f"endurance_{line}"] = S_e
        found[line] = number(n_f_of(s_a, s_m, S_e, S_ut if bending else S_su)) if s_a > 0 else None
    return found


def _by_life(place: Endured, s_a: float, s_m: float) -> Iterable[LifeStrength]:
    """Yield the table's lives as the book's problems take them: S_r, S_e by Gerber, n_f."""
    for N, S_r in zip(place.lives, place.S_r, strict=True):
        S_e = number(endurance.S_e_from_repeated(number(S_r), place.S_u))
        n_f = number(fatigue.n_f_gerber(s_a, s_m, S_e, place.S_u)) if s_a + s_m > 0 else None
        strength = number(S_r)
        yield LifeStrength(cycles=float(N), repeated_strength=strength, endurance=S_e, gerber=n_f)


def _yielding(book: Handbook, s_a: float, s_m: float, stress: StressOfLoad) -> float | None:
    start = stress(book.initial_tension.force)
    if start is None or s_a <= 0 or s_m <= start:
        return None
    slope = number(fatigue.load_line_slope(s_a, s_m, start))
    limit = number(fatigue.S_sa_y(slope, book.allowable.body_shear or math.nan, start))
    return number(fatigue.n_y(limit, s_a))


def zimmerli_applies(book: Handbook) -> bool:
    """Return whether Zimmerli's data cover this wire: steel below 10 mm, strong enough."""
    peak = sum(endurance.zimmerli(book.model.spec.service.peened))
    strong = peak <= float(endurance.S_su(book.material.tensile_strength))
    return strong and bool(zimmerli_holds(book.model.material, book.model.body.wire_diameter))


def _life_class(cycle: Cycle) -> float | None:
    """Return the table's life next above the cycles asked for."""
    table = cycle.book.model.material.cyclic_allowables or {}
    return min((life for life in table if life >= cycle.cycles), default=None)


def _governing(
    answers: Mapping[tuple[Way, bool], Mapping[str, FatiguePlace]],
) -> tuple[str, Way, float, bool] | None:
    """Return place, method, least factor, and whether it is that as mounted; None without one."""
    factors = {
        (name, *way): place.factor
        for way, places in answers.items()
        for name, place in places.items()
        if place.factor is not None
    }
    if not factors:
        return None
    name, way, as_mounted = min(factors, key=lambda k: factors[k])
    return name, way, factors[name, way, as_mounted], as_mounted


def _method(cycle: Cycle) -> Message:
    """Return in words what the factor rests on."""
    table = sorted(cycle.book.model.material.cyclic_allowables or {})
    ever, N = zimmerli_applies(cycle.book), cycle.cycles
    if not table and not ever:
        return word("no published fatigue data for this wire: test, or ask the maker")
    if not ever and table[-1] < N and not cycle.is_spectrum:
        return said(
            "no published fatigue data for this wire beyond {cycles} cycles: test, or ask the "
            "maker",
            cycles=f"{table[-1]:g}",
        )
    words = []
    if table:
        words.append(
            word("repeated-load table, R = 0 (Shigley Table 10-8), log-log between its lives")
        )
        if table[0] > N:
            least = f"{table[0]:g}"
            words.append(
                said("below {cycles} cycles the strength at {cycles} is kept", cycles=least)
            )
        if ever and table[-1] < N:
            words.append(
                word("beyond them on the last line down to Zimmerli (Shigley 10-28, 10-29)")
            )
    else:
        words.append(word("Zimmerli's infinite-life strength at every life (Shigley 10-28, 10-29)"))
    words.append(word("the least of Gerber, Goodman and the static margin"))
    if cycle.is_spectrum:
        words.append(word("ranges summed by Miner's rule"))
    return together(*words, by="; ")


def _method_mounted(cycle: Cycle) -> Message:
    """Return the same where the spring is mounted."""
    return together(
        _method(cycle),
        word(
            "as mounted it goes between the greatest stresses of a place under either load, which "
            "may lie side by side: where they change sides the range is greater"
        ),
        by="; ",
    )


def _number(value: Value) -> float | None:
    """Return a finite number, or None: JSON holds no other."""
    x = number(value)
    return x if math.isfinite(x) else None
