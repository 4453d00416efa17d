"""The fit of every pair of parts in one state of the spring."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Protocol

from springgeo.curve.frame import vector
from springgeo.equilibrium.state.forces import Reaction
from springgeo.findings import Finding, by_severity, error
from springgeo.fit.advice import around_findings, end_findings, solid_findings
from springgeo.fit.bounds import greatest
from springgeo.fit.clearance import Clearance, Pair, clearances
from springgeo.fit.end import EndCase, end_fit, gap, is_body, xyz
from springgeo.fit.held_hook import hook_of
from springgeo.fit.model import EndFit, PinLoad, PinLoads, StateFit
from springgeo.fit.obstacles import Cylinder, Obstacle, Tube
from springgeo.fit.seat import Attached, end_frame, laid
from springgeo.fit.wire import Mask, Wire
from springgeo.specification.end_names import Side
from springgeo.specification.mating import EndMate, Mating, Rod
from springgeo.spring.geometry import Geometry
from springgeo.text.shown import said, word

_AXIS = vector(0.0, 0.0, 1.0)


class Borne(Protocol):
    """What a state knows of its pins."""

    @property
    def pins(self) -> tuple[Reaction, Reaction]:
        """What the pins of A and B do to the spring."""
        ...


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

    @property
    def equilibrium(self) -> Borne | None:
        """What the pins bear."""
        ...

    @property
    def laps(self) -> tuple[Finding, ...]:
        """Where its wire would lie in itself (``lap_findings``)."""
        ...


def state_fit(
    state: SpringState,
    mating: Mating,
    stop: str | None = None,
    solids: Mapping[str, Obstacle | Attached] | None = None,
) -> StateFit:
    """Return the fit of a spring's state with everything round it.

    ``stop`` names the state; ``solids`` are further obstacles by name, in the spring's frame or
    ``Attached`` to an end.
    """
    geometry = state.geometry
    wire = Wire.of(geometry.path, geometry.wire_diameter)
    found: list[Finding] = []
    cases = {side: _case(geometry, side, mate, found) for side, mate in _mates(mating)}
    pairs = list(_pairs(geometry, wire, mating, cases))
    for name, solid in (solids or {}).items():
        shape = solid.on(geometry) if isinstance(solid, Attached) else solid
        pairs.append((f"solids.{name}", (shape, wire.all)))
    measured: dict[str, list[Clearance]] = {}
    for (name, _), clear in zip(pairs, clearances(wire, [p for _, p in pairs]), strict=True):
        measured.setdefault(name, []).append(clear)
    ends: dict[Side, EndFit | None] = {"first": None, "second": None}
    for side, case in cases.items():
        if case is not None:
            beside = measured[side] if not case.held else [case.own(), *measured[side]]
            fit = end_fit(wire, case, beside, mating.play)
            found += end_findings(side, case.part, case.frame, fit)
            ends[side] = fit
    bore_gap, rod_gap = (
        gap(measured[name][0]) if name in measured else None for name in ("bore", "rod")
    )
    thin = partial(_greatest_rod, geometry, wire)
    found += around_findings(mating.around.bore, bore_gap, mating.around.rod, rod_gap, thin)
    others = {name: gap(measured[f"solids.{name}"][0]) for name in solids or {}}
    found += solid_findings(others, geometry.wire_diameter)
    found += state.laps
    return StateFit(
        stop=stop,
        length=state.length,
        load=state.load,
        first=ends["first"],
        second=ends["second"],
        bore=bore_gap,
        rod=rod_gap,
        solids=others,
        pins=_pins(state.equilibrium),
        findings=by_severity(found),
    )


def _pins(borne: Borne | None) -> PinLoads | None:
    if borne is None:
        return None
    a, b = (PinLoad(force=xyz(p.force), moment=xyz(p.moment)) for p in borne.pins)
    return PinLoads(first=a, second=b)


def rod_shape(geometry: Geometry, rod: Rod) -> Cylinder:
    """Return the rod on the spring's axis, in the middle of the body."""
    low, high = geometry.body_faces
    middle = (low + high) / 2
    length = high - low if rod.length is None else rod.length
    return Cylinder(vector(0.0, 0.0, middle), _AXIS, rod.diameter / 2, length)


def _greatest_rod(geometry: Geometry, wire: Wire, rod: Rod) -> float:
    """Return the greatest diameter, mm, of a rod as long that meets no wire; 0 without one."""

    def distance(diameter: float) -> float:
        trial = rod_shape(geometry, rod.model_copy(update={"diameter": diameter}))
        return clearances(wire, [(trial, _beside(wire, rod))])[0].distance

    return greatest(rod.diameter, 1e-4 * wire.wire_radius, distance)


def _beside(wire: Wire, rod: Rod) -> Mask:
    """Return the wire that a rod is held against: one without a length ends with the body."""
    return wire.mask(is_body) if rod.length is None else wire.all


def _pairs(
    geometry: Geometry, wire: Wire, mating: Mating, cases: Mapping[Side, EndCase | None]
) -> Iterator[tuple[str, Pair]]:
    """Yield every pair of parts under the name of its place: ``a``, ``b``, ``bore``, ``rod``."""
    for side, case in cases.items():
        if case is not None:
            yield from ((side, pair) for pair in case.pairs(wire))
    bore, rod = mating.around.bore, mating.around.rod
    if bore is not None:
        yield "bore", (Tube(vector(0.0, 0.0, 0.0), _AXIS, bore.diameter / 2), wire.all)
    if rod is not None:
        yield "rod", (rod_shape(geometry, rod), _beside(wire, rod))


def _mates(mating: Mating) -> Iterator[tuple[Side, EndMate | None]]:
    yield "first", mating.first
    yield "second", mating.second


def _case(
    geometry: Geometry, side: Side, mate: EndMate | None, found: list[Finding]
) -> EndCase | None:
    part = None if mate is None else laid(mate)
    if part is None:
        return None
    frame = end_frame(geometry, side)
    if frame is None:
        held = [p.name.partition(".")[2] for p in geometry.parts if p.name.startswith(f"{side}.")]
        what = (
            said("its {part} is not examined", part=word(held[0]))
            if held
            else word("it has no hook to hold a part")
        )
        text = said(
            "{reason}; choose another {field}, or leave the part out",
            reason=what,
            field=f"ends.{side}.style",
        )
        found.append(error("no-hook", f"mating.{side}", text))
        return None
    return EndCase(side, frame, part, hook_of(geometry, side))
