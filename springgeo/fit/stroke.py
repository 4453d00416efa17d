"""The fit over the stroke: free, installed, longest, over-travel, and states between."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from springgeo.errors import SpecError, refused
from springgeo.findings import Finding, by_severity, error, warning
from springgeo.fit.model import FitReport, StateFit
from springgeo.fit.obstacles import Obstacle
from springgeo.fit.seat import Attached
from springgeo.fit.state import SpringState, state_fit
from springgeo.specification import Spec
from springgeo.specification.mating import Mating
from springgeo.text import quantity as q
from springgeo.text.shown import said, word


class Reaching(Protocol):
    """A working point."""

    @property
    def length(self) -> float:
        """Length inside hooks, mm."""
        ...


class SpringLike(Protocol):
    """What a sweep asks of a spring; ``springgeo.Spring`` is one."""

    @property
    def spec(self) -> Spec:
        """The specification."""
        ...

    @property
    def free_length(self) -> float:
        """Length inside hooks without load, mm."""
        ...

    def points_mounted(self, mating: Mating | None = None) -> Sequence[Reaching]:
        """Return the working points as mounted; raises SpecError where one is not reached."""
        ...

    def travel_stop(self, mating: Mating | None = None) -> float:
        """Return the length, mm, at which the first stress reaches its allowable as mounted."""
        ...

    def mounted(
        self,
        mating: Mating | None = None,
        *,
        loads: Sequence[float] = (),
        lengths: Sequence[float] = (),
    ) -> Sequence[SpringState]:
        """Return states as mounted in rising order; raises SpecError where one is not reached."""
        ...


@dataclass(frozen=True)
class Stops:
    """Named lengths of the stroke, mm, in order, and the longest with every margin above 1."""

    named: dict[str, float]
    safe: float | None
    findings: tuple[Finding, ...]


def mating_or_refused(mating: Mating | None, spec: Spec) -> Mating:
    """Return the mating parts given, else those of a specification; raises SpecError."""
    found = spec.mating if mating is None else mating
    if found is None:
        raise refused(
            "no-mating",
            "mating",
            "nothing to fit: add mating parts, for "
            "example 'mating: {first: {pin: {diameter: 5 mm, length: 20 mm}}}'",
        )
    return found


def fit(
    spring: SpringLike,
    mating: Mating | None = None,
    *,
    states: int = 20,
    solids: Mapping[str, Obstacle | Attached] | None = None,
) -> FitReport:
    """Return the fit of a spring with its mating parts over its stroke.

    Parameters
    ----------
    spring : SpringLike
    mating : Mating, optional
        That of the specification if left out.
    solids : mapping of str to Obstacle or Attached, optional
        Anything else the spring may meet: shapes of this room, or ``springgeo.cad.SolidObstacle``
        for a CadQuery or STEP solid. In the spring's frame (end A at the origin), unless
        ``Attached`` to an end.
    states : int
        How many states from free to over-travel, the named stops beside them.

    Raises
    ------
    SpecError
        No mating parts are given anywhere, or ``states`` is below 1.
    """
    beside = Mating() if solids else None
    mating = mating_or_refused(mating or spring.spec.mating or beside, spring.spec)
    if not 1 <= states <= 10000:
        raise refused("bad-value", "states", f"{states} is not within 1 to 10000")
    stops = stops_of(spring, mating)
    if stops.findings:
        # without working points there is no load to go with a length
        return report(spring.spec.name, (), stops.findings)
    chosen = {length: name for name, length in reversed(stops.named.items())}
    last = max(stops.named.values())
    for length in np.linspace(min(stops.named.values()), last, states).tolist():
        chosen.setdefault(length, "")
    found: list[Finding] = []
    if stops.safe is not None and last > stops.safe * (1 + 1e-9):
        found.append(
            warning(
                "over-travel-unsafe",
                "mating.over_travel",
                said(
                    "the longest length {longest} is beyond {safe}, where the first stress reaches "
                    "its allowable; put a travel stop there, or reduce the stroke",
                    **q.lengths(5, longest=last, safe=stops.safe),
                ),
            )
        )
    reached, beyond = _reached(spring, mating, sorted(chosen), stops)
    if pushed := [s for _, s in reached if s.load < 0]:
        found.append(_pushed(max(pushed, key=lambda s: s.length)))
    done = [state_fit(state, mating, chosen[length] or None, solids) for length, state in reached]
    return report(spring.spec.name, done, [*beyond, *found], stops.safe)


def _pushed(state: SpringState) -> Finding:
    return warning(
        "pushed",
        "mating",
        said(
            "up to {length} the pins push the spring, there with {force}: its ends are held out of "
            "line, and its coils press on one side; hooks may drop off; mount it longer, or bring "
            "the pins into line",
            length=q.length(state.length, 4),
            force=q.force(-state.load, 3),
        ),
    )


def _reached(
    spring: SpringLike, mating: Mating, lengths: Sequence[float], stops: Stops
) -> tuple[list[tuple[float, SpringState]], list[Finding]]:
    """Return the states at rising lengths, and why the longest one cannot be reached, if so."""
    beyond: list[Finding] = []
    for most in range(len(lengths), 0, -1):
        try:
            states = spring.mounted(mating, lengths=lengths[:most])
        except SpecError as exc:
            if not beyond:
                within = max(v for k, v in stops.named.items() if k != "over-travel")
                field = "service" if lengths[most - 1] <= within else "mating.over_travel"
                beyond = [f.model_copy(update={"field": field}) for f in exc.findings]
            continue
        return list(zip(lengths[:most], states, strict=True)), beyond
    return [], beyond


def report(
    name: str,
    states: Sequence[StateFit],
    extra: Iterable[Finding] = (),
    safe_length: float | None = None,
) -> FitReport:
    """Return the report on fitted states: each code and field as first met.

    What says how far parts overlap, and what to change by how much, is that of the state in which
    most is missing.
    """
    kept: dict[tuple[str, str], Finding] = {}
    for f in (*extra, *(f for s in states for f in s.findings)):
        before = kept.setdefault((f.code, f.field), f)
        if (f.room or 0.0) < (before.room or 0.0):
            kept[f.code, f.field] = f
    found = by_severity(kept.values())
    grave = [f.code for f in found if f.severity == "error"]
    codes = ", ".join(dict.fromkeys(grave))
    verdict = said("does not fit: {codes}", codes=codes) if grave else word("fits")
    return FitReport(
        name=name,
        states=tuple(states),
        safe_length=safe_length,
        findings=found,
        verdict=verdict,
    )


def stops_of(spring: SpringLike, mating: Mating) -> Stops:
    """Return the named lengths; service lengths at which the spring is slack are findings."""
    free = spring.free_length
    found = [
        error(
            "mounted-below-free",
            f"service.lengths.{i}",
            said(
                "{length} is {less} below the free length {free}: rigid mounts would push the "
                "coils, which are already wound solid; mount further apart, or use a shorter "
                "spring",
                **q.lengths(5, length=given, free=free),
                less=q.length(free - given, 4),
            ),
        )
        for i, given in enumerate(spring.spec.service.lengths)
        if given < free * (1 - 1e-9) and not _is_taut(spring, mating, given)
    ]
    given = [x if x < free * (1 - 1e-9) else max(x, free) for x in spring.spec.service.lengths]
    points = [] if found else spring.points_mounted(mating)
    idle = [free for load in spring.spec.service.loads if load == 0]
    lengths = [*given, *idle, *(p.length for p in points)]
    named = {"free": free}
    if lengths:
        # pins aside of each other pull a spring that is no longer than free along its line
        named["installed"] = min(lengths)
        named["max"] = max(lengths)
    if mating.over_travel > 0:
        named["over-travel"] = named.get("max", free) + mating.over_travel
    return Stops(named, None if found else safe_length(spring, mating), tuple(found))


def _is_taut(spring: SpringLike, mating: Mating, length: float) -> bool:
    """Return whether a spring that would be slack pulled straight is taut between its pins."""
    try:
        (state,) = spring.mounted(mating, lengths=[length])
    except SpecError:
        return False
    return state.load > 0


def safe_length(spring: SpringLike, mating: Mating | None = None) -> float:
    """Return the length, mm, at which the first stress reaches its allowable: the travel stop.

    Of the spring as a mating section mounts it; of the straight pull, which is what moves between
    the pins of a mechanism, if that is left out.
    """
    return spring.travel_stop(Mating() if mating is None else mating)
