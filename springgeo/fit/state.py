"""The fit of every pair of parts in one state of the spring."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from springgeo.curve.frame import vector
from springgeo.findings import Finding, by_severity, error
from springgeo.fit.advice import around_findings, end_findings
from springgeo.fit.clearance import clearance
from springgeo.fit.end import end_fit, gap
from springgeo.fit.model import EndFit, Gap, StateFit
from springgeo.fit.obstacles import Cylinder, Tube
from springgeo.fit.seat import Side, end_frame
from springgeo.fit.wire import Wire
from springgeo.spec.mating import EndMate, Mating, Rod
from springgeo.spring.geometry import Geometry

_AXIS = vector(0.0, 0.0, 1.0)


class SpringState(Protocol):
    """What the fit needs to know of a state."""

    @property
    def load(self) -> float:
        """N."""
        ...

    @property
    def length(self) -> float:
        """Length inside hooks, mm."""
        ...

    @property
    def geometry(self) -> Geometry:
        """The centreline with its ends."""
        ...


def state_fit(state: SpringState, mating: Mating, stop: str | None = None) -> StateFit:
    """Return the fit of a spring's state with everything round it."""
    geometry = state.geometry
    wire = Wire.of(geometry.path, geometry.diameter)
    found: list[Finding] = []
    ends = {
        side: _end(geometry, wire, side, mate, mating.play, found) for side, mate in _mates(mating)
    }
    bore, rod = mating.around.bore, mating.around.rod
    bore_gap = rod_gap = None
    if bore is not None:
        tube = Tube(vector(0.0, 0.0, 0.0), _AXIS, bore.diameter / 2)
        bore_gap = gap(clearance(wire, tube))
    if rod is not None:
        rod_gap = _rod(geometry, wire, rod)
    found += around_findings(bore, bore_gap, rod, rod_gap)
    return StateFit(
        stop=stop,
        length=state.length,
        load=state.load,
        a=ends["a"],
        b=ends["b"],
        bore=bore_gap,
        rod=rod_gap,
        findings=by_severity(found),
    )


def rod_shape(geometry: Geometry, rod: Rod) -> Cylinder:
    """Return the rod on the spring's axis, in the middle of the body."""
    middle = geometry.a.hook_length + geometry.body_length / 2
    length = geometry.body_length if rod.length is None else rod.length
    return Cylinder(vector(0.0, 0.0, middle), _AXIS, rod.diameter / 2, length)


def _rod(geometry: Geometry, wire: Wire, rod: Rod) -> Gap:
    if rod.length is None:
        wire = wire.only(lambda p: p.role == "body")
    return gap(clearance(wire, rod_shape(geometry, rod)))


def _mates(mating: Mating) -> Iterator[tuple[Side, EndMate | None]]:
    yield "a", mating.a
    yield "b", mating.b


def _end(
    geometry: Geometry,
    wire: Wire,
    side: Side,
    mate: EndMate | None,
    play: float,
    found: list[Finding],
) -> EndFit | None:
    if mate is None:
        return None
    frame = end_frame(geometry, side)
    if frame is None:
        found.append(
            error(
                "no-hook",
                f"mating.{side}",
                "this end has no hook to hold a part; "
                f"choose another ends.{side}.style, or leave the part out",
            )
        )
        return None
    fit = end_fit(geometry, wire, frame, side, mate.part, play)
    found += end_findings(f"mating.{side}.{fit.part}", mate.part, frame, fit)
    return fit
