"""The sections of a summary, each computed when it is asked for, with those it reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property, partial
from typing import Any

from springgeo.equilibrium.mounted.states import Mounted
from springgeo.findings import Finding, by_severity
from springgeo.mechanics import dynamics
from springgeo.results.along_wire import WirePoint
from springgeo.results.geometry import FittedPart
from springgeo.results.handbook import Dynamics
from springgeo.results.load_line import LoadLine
from springgeo.results.overload import Overload
from springgeo.results.verdict import Check
from springgeo.spring.model import SpringModel
from springgeo.summary.advice.build import advice
from springgeo.summary.conventions import rate_conventions, static_check, tension_ranges
from springgeo.summary.drawn import free_length, geometry_facts
from springgeo.summary.fatigue.facts import fatigue_facts
from springgeo.summary.handbook import Handbook
from springgeo.summary.load_line import load_line_facts
from springgeo.summary.loaded import contact_facts, lean_facts, pins_facts, rates_facts, stored
from springgeo.summary.mounting import WireMounted, mounted, mounted_points, off_the_line
from springgeo.summary.pull import pull_facts
from springgeo.summary.reach import require_points
from springgeo.summary.temperature import require_limits, temperature_facts
from springgeo.summary.verdict import verdict_facts
from springgeo.summary.wire import AlongWire
from springgeo.worked.number import number


class Sections:
    """The sections of a summary by key.

    Parameters
    ----------
    model : SpringModel
    checks : iterable of Check
    solid_length : float, optional
        Free length read off a solid's box, mm.

    Raises
    ------
    SpecError
        The service temperature is beyond the limits of the wire; of a working point beyond what
        the wire can be drawn to, by the first section that reads the load curve.
    """

    def __init__(
        self, model: SpringModel, checks: Iterable[Check] = (), solid_length: float | None = None
    ) -> None:
        require_limits(model)
        self.model, self.book = model, Handbook(model)
        self.checks, self.solid_length = checks, solid_length
        self._found: dict[str, Any] = {}

    def __getitem__(self, key: str) -> Any:
        """Return a section, computed now if it was not asked for yet."""
        if key not in self._found:
            self._found[key] = _HOW[key](self)
        return self._found[key]

    @cached_property
    def wire(self) -> AlongWire:
        """The spring's equilibrium, all working points within its reach."""
        wire = AlongWire(self.book)
        require_points(wire)
        return wire

    @cached_property
    def place(self) -> Mounted | None:
        """The spring as mounted; None where its pull is straight."""
        return mounted(self.wire.book, self.model.spec.mating)

    def findings(self) -> tuple[Finding, ...]:
        """Return what is said of the spring, the gravest first."""
        off: Iterable[Finding] = ()
        if self.place is not None:
            off = off_the_line(WireMounted(self.book, self.place), self["mounted"])
        told = advice(self.book, self.wire, self["fatigue"], self["load_line"], self["lean"])
        return by_severity([*told, *off])


def _parts(model: SpringModel) -> tuple[FittedPart, ...]:
    return tuple(
        FittedPart(name=p.name, volume=p.volume, sizes=dict(p.sizes)) for p in model.geometry.parts
    )


def _mounted(s: Sections) -> tuple[WirePoint, ...]:
    return () if s.place is None else mounted_points(WireMounted(s.book, s.place))


def _overload(book: Handbook) -> Overload | None:
    """Return what the specification asks for (``service.overload``), or None."""
    load = book.model.spec.service.overload
    if load is None:
        return None
    # sections that yield are much to load, and seldom asked for
    from springgeo.summary.overload.facts import overload_facts
    from springgeo.summary.overload.given import Given

    return overload_facts(book, Given(load))


def _dynamics(book: Handbook, line: LoadLine) -> Dynamics:
    """Return natural frequencies and the energy released if the highest load lets go."""
    energy = None
    if book.points:
        energy = stored(line.curve, book.points[-1].length)
    return Dynamics(
        natural_frequency_both_held=book.natural_frequency,
        natural_frequency_one_free=number(dynamics.f_one_free(book.rate, book.mass_active)),
        stored_energy=energy,
    )


# How each is found, in the order in which all are; none hangs on which were asked for before.
_HOW: dict[str, Callable[[Sections], Any]] = {
    "material": lambda s: s.book.material,
    "temperature": lambda s: temperature_facts(s.model),
    "geometry": lambda s: geometry_facts(s.book),
    "parts": lambda s: _parts(s.model),
    "free_length": lambda s: free_length(s.book, s.solid_length),
    "rate": lambda s: s.book.rate,
    "active_coils": lambda s: s.book.active_coils,
    "rate_conventions": lambda s: rate_conventions(s.book),
    "initial_tension": lambda s: s.book.initial_tension,
    "initial_tension_ranges": lambda s: tension_ranges(s.book),
    "points": lambda s: s.wire.book.points,
    "rates": lambda s: rates_facts(s.book, s.wire),
    "static_check": lambda s: static_check(s.wire.book),
    "contact": lambda s: contact_facts(s.wire.book),
    "lean": lambda s: lean_facts(s.wire.book),
    "fatigue": lambda s: fatigue_facts(s.book, s.wire),
    "along_the_wire": lambda s: s.wire.facts(),
    "verdict": lambda s: verdict_facts(
        s.book, s["along_the_wire"].points, s["mounted"], s["fatigue"]
    ),
    "pull": lambda s: pull_facts(s.book, s.wire),
    "load_line": lambda s: load_line_facts(s.wire.book, partial(s.__getitem__, "pull")),
    "mounted": _mounted,
    "pins": lambda s: pins_facts(s.wire.book, s.place),
    "dynamics": lambda s: _dynamics(s.book, s["load_line"]),
    "overload": lambda s: _overload(s.book),
    "checks": lambda s: tuple(s.checks),
}
SECTIONS = tuple(_HOW)
