"""The sections of a summary, each computed when it is asked for, with those it reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Any

from springgeo.equilibrium.mounted.states import Mounted
from springgeo.findings import Finding, by_severity
from springgeo.mechanics import dynamics
from springgeo.message import Text
from springgeo.results import handbook as by_book
from springgeo.results.along_wire import AlongTheWire, WirePoint
from springgeo.results.facts import CAUTIONS
from springgeo.results.fatigue import Fatigue
from springgeo.results.geometry import FittedPart, FreeLength, GeometryFacts
from springgeo.results.load_line import LoadLine, LoadPoints
from springgeo.results.loaded import CoilContacts, CurvePoint, Lean, Pins, Rates
from springgeo.results.material import MaterialFacts, TemperatureFacts
from springgeo.results.overload import Overload
from springgeo.results.pull import Pull
from springgeo.results.summary import Summary
from springgeo.results.verdict import Check, Verdict
from springgeo.spring.model import SpringModel
from springgeo.summary.advice.build import advice
from springgeo.summary.advice.loaded import Leans
from springgeo.summary.conventions import rate_conventions, static_check, tension_ranges
from springgeo.summary.drawn import free_length, geometry_facts
from springgeo.summary.fatigue.facts import AsMounted, fatigue_facts
from springgeo.summary.handbook import Handbook
from springgeo.summary.lean import lean_facts
from springgeo.summary.load_line import load_points
from springgeo.summary.loaded import (
    contact_facts,
    curve_points,
    pins_facts,
    rates_facts,
    stored,
)
from springgeo.summary.mounted_stop import mounted_stop
from springgeo.summary.mounting import WireMounted, mounted_points, off_the_line
from springgeo.summary.reach.pull import pull_facts
from springgeo.summary.reach.states import require_points
from springgeo.summary.temperature import require_limits, temperature_facts
from springgeo.summary.verdict import verdict_facts
from springgeo.summary.wire import AlongWire
from springgeo.worked.number import number


class Sections:
    """The sections of a summary by name, and what is said of the spring; as `Summary` has them.

    None hangs on which were asked for before.

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
        self.checks, self.solid_length = tuple(checks), solid_length

    def __getitem__(self, key: str) -> Any:
        """Return a section by its key."""
        return getattr(self, key)

    @cached_property
    def wire(self) -> AlongWire:
        """The spring's equilibrium, all working points within its reach."""
        wire = AlongWire(self.book)
        require_points(wire)
        return wire

    @cached_property
    def place(self) -> Mounted | None:
        """The spring as mounted; None where its pull is straight."""
        return self.wire.book.place

    @cached_property
    def there(self) -> WireMounted | None:
        """Stress along the wire as mounted; None where its pull is straight."""
        return None if self.place is None else WireMounted(self.book, self.place)

    @property
    def name(self) -> str:
        """The spring's name."""
        return self.model.spec.name

    @property
    def cautions(self) -> tuple[Text, ...]:
        """What is to be shown with every answer."""
        return CAUTIONS

    @cached_property
    def specification(self) -> dict[str, Any]:
        """What was asked for, as the checked specification has it."""
        return self.model.spec.model_dump(mode="json", exclude_none=True)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is said of the spring, the gravest first."""
        off: Iterable[Finding] = ()
        if self.there is not None:
            off = off_the_line(self.there, self.mounted, self.lean)
        told = advice(
            self.book, self.wire, self.fatigue, self.load_points, self._leans, lambda: self.curve
        )
        return by_severity([*told, *off])

    @property
    def _leans(self) -> Leans:
        """Tilt and bow pulled straight, for what is said of the ends; whether that is all."""
        straight = self.place is None
        return Leans(self.lean if straight else lean_facts(self.wire.book, None), straight)

    @cached_property
    def material(self) -> MaterialFacts:
        """What the wire is."""
        return self.book.material

    @cached_property
    def temperature(self) -> TemperatureFacts:
        """What the service temperature leaves."""
        return temperature_facts(self.model)

    @cached_property
    def parts(self) -> tuple[FittedPart, ...]:
        """What fitted ends consist of beside the wire."""
        return tuple(
            FittedPart(name=p.name, volume=p.volume, sizes=dict(p.sizes))
            for p in self.model.geometry.parts
        )

    @cached_property
    def geometry(self) -> GeometryFacts:
        """The drawn spring."""
        return geometry_facts(self.book)

    @cached_property
    def free_length(self) -> FreeLength:
        """Inside hooks, by every way at hand."""
        return free_length(self.book, self.solid_length)

    @cached_property
    def rate(self) -> float:
        """The handbook's, N/mm."""
        return self.book.rate

    @cached_property
    def rate_conventions(self) -> dict[str, by_book.Convention]:
        """The rate by other conventions."""
        return rate_conventions(self.book)

    @cached_property
    def active_coils(self) -> float:
        """The handbook's."""
        return self.book.active_coils

    @cached_property
    def initial_tension(self) -> by_book.InitialTension:
        """Force and stress."""
        return self.book.initial_tension

    @cached_property
    def initial_tension_ranges(self) -> tuple[by_book.StressRange, ...]:
        """What can be wound."""
        return tension_ranges(self.book)

    @cached_property
    def points(self) -> tuple[by_book.WorkingPoint, ...]:
        """The working points, by the handbook."""
        return self.wire.book.points

    @cached_property
    def rates(self) -> Rates:
        """Each by what it is."""
        return rates_facts(self.book, self.wire)

    @cached_property
    def static_check(self) -> by_book.StaticCheck | None:
        """The standard's."""
        return static_check(self.wire.book)

    @cached_property
    def contact(self) -> CoilContacts | None:
        """How the coils press."""
        return contact_facts(self.wire.book)

    @cached_property
    def lean(self) -> tuple[Lean, ...]:
        """Tilt and bow at each working point."""
        return lean_facts(self.wire.book, self.place)

    @cached_property
    def fatigue(self) -> Fatigue | None:
        """Of the cycle asked for."""
        return fatigue_facts(self.book, self.wire, _cycling(self))

    @cached_property
    def along_the_wire(self) -> AlongTheWire:
        """Stress along the wire."""
        return self.wire.facts()

    @cached_property
    def verdict(self) -> Verdict | None:
        """Whether it holds."""
        return verdict_facts(self.book, self.along_the_wire.points, self.mounted, self.fatigue)

    @cached_property
    def pull(self) -> Pull:
        """How far it may be pulled."""
        return _pull(pull_facts(self.book, self.wire), self.there)

    @cached_property
    def load_points(self) -> LoadPoints:
        """The textbook's line and the curve's at no load, initial tension and working points."""
        return load_points(self.wire.book)

    @cached_property
    def curve(self) -> tuple[CurvePoint, ...]:
        """The load curve from the free length to the end of the stroke."""
        return curve_points(self.wire.book, lambda: self.pull)

    @cached_property
    def load_line(self) -> LoadLine:
        """Load over length, whole."""
        return LoadLine(**dict(self.load_points), curve=self.curve)

    @cached_property
    def mounted(self) -> tuple[WirePoint, ...]:
        """The working points as mounted, where the pull is not straight."""
        return () if self.there is None else mounted_points(self.there)

    @cached_property
    def pins(self) -> Pins:
        """What the pins do beside the straight pull."""
        return pins_facts(self.wire.book, self.place)

    @cached_property
    def dynamics(self) -> by_book.Dynamics:
        """Natural frequencies, stored energy."""
        return _dynamics(self.book, lambda: self.curve)

    @cached_property
    def overload(self) -> Overload | None:
        """What an overload leaves, where it is asked for."""
        return _overload(self.book)


def _pull(straight: Pull, there: WireMounted | None) -> Pull:
    """Return how far a spring may be pulled, and as it is mounted, if that is not straight."""
    if there is None:
        return straight
    stop = mounted_stop(there, straight.travel_stop_load)
    # not a copy by pydantic's means: what was found so remembers how
    return Pull(**{**dict(straight), "mounted": stop})


def _cycling(s: Sections) -> AsMounted | None:
    """Return the spring as mounted with the loads between which it goes there."""
    if s.there is None or not s.mounted:
        return None
    loads = [p.load for p in s.mounted]
    # points that are left out have no load
    low = min(loads) if len(loads) == len(s.points) else 0.0
    return AsMounted(s.there, (low, max(loads)))


def _overload(book: Handbook) -> Overload | None:
    """Return what the specification asks for (``service.overload``), or None."""
    load = book.model.spec.service.overload
    if load is None:
        return None
    # sections that yield are much to load, and seldom asked for
    from springgeo.summary.overload.facts import overload_facts
    from springgeo.summary.overload.given import Given

    return overload_facts(book, Given(load))


def _dynamics(book: Handbook, curve: Callable[[], tuple[CurvePoint, ...]]) -> by_book.Dynamics:
    """Return natural frequencies and the energy released if the highest load lets go."""
    energy = None
    if book.points:
        energy = stored(curve(), book.points[-1].length)
    return by_book.Dynamics(
        natural_frequency_both_held=book.natural_frequency,
        natural_frequency_one_free=number(dynamics.f_one_free(book.rate, book.mass_active)),
        stored_energy=energy,
    )


# what the summary has of the specification, and what is said of all
_BESIDE = {
    *("schema_version", "name", "units", "specification", "specification_text"),
    *("findings", "cautions"),
}
SECTIONS = tuple(key for key in Summary.model_fields if key not in _BESIDE)
# a summary, or as much of it as is read
Told = Summary | Sections
