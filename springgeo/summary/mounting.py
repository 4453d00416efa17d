"""The spring where it is mounted: what its mating section makes of the straight pull."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.mounted.states import Mounted
from springgeo.findings import Finding, note, warning
from springgeo.results.along_wire import WirePoint
from springgeo.results.loaded import Lean
from springgeo.statics import WireStress
from springgeo.summary import solved
from springgeo.summary.loaded import as_mounted, is_given, loaded
from springgeo.summary.verdict import weakest, weakest_mounted
from springgeo.summary.wire import AlongWire
from springgeo.text import quantity as q
from springgeo.text.shown import said


@dataclass(frozen=True)
class WireMounted(AlongWire):
    """Stress along the wire of the spring as mounted."""

    place: Mounted

    @property
    def curve(self) -> LoadCurve:
        """Load over length, pulled straight."""
        return self.place.curve

    def at(self, load: float) -> WireStress:
        """Return the stress at a load along the line of pull, N; raises SpecError."""
        load = float(load)
        if load not in self._at:
            shape = self.place.solve(load).shape
            self._at[load] = self._sections.under(*self._bearing.borne(shape), load)
        return self._at[load]

    def load_at(self, length: float) -> float:
        """Return the load along the line of pull, N, at a length, mm; raises SpecError."""
        return solved.load(self.book, length, self.place.solve_length(float(length)).load)


# share of the pull, and of its moment about a coil, below which nothing is said
_SLIGHT = 1e-3


def mounted_points(wire: WireMounted) -> tuple[WirePoint, ...]:
    """Return the working points as mounted, those without load left out."""
    free = wire.curve.free_length
    found = []
    for p in loaded(wire.book, wire.place):
        if is_given(wire.book, p):
            point = wire.point(wire.load_at(p.length), p.length)
        else:
            at = as_mounted(wire.book, wire.place, p)
            length = solved.length(wire.book, p.load, free + at.extension)
            point = wire.point(p.load, length)
        found.append(point)
    return tuple(found)


def off_the_line(
    wire: WireMounted, points: Sequence[WirePoint], leans: Sequence[Lean]
) -> Iterator[Finding]:
    """Yield what the pins bear beside the straight pull, and what that does to the wire."""
    if not points:
        return
    asked = loaded(wire.book, wire.place)
    states = [as_mounted(wire.book, wire.place, p) for p in asked]
    pins = [pin for at in states for pin in wire.place.pins(at)]
    side = max(float(np.hypot(*pin.force[:2])) for pin in pins)
    turn = max(float(np.linalg.norm(pin.moment)) for pin in pins)
    every = zip(points, asked, strict=True)
    judged = [(w, p, by) for p, by in every if (w := weakest_mounted(wire.book, p))]
    if not judged:
        return
    worst, point, by_curve = min(judged, key=lambda x: x[0].margin)
    pulled = weakest(by_curve, AlongWire(wire.book).stressed(by_curve.load))
    straight = math.inf if pulled is None else pulled.margin
    over = worst.margin < 1.0 <= straight
    slight = _SLIGHT * max(p.load for p in points)
    if not over and side <= slight and turn <= slight * wire.book.model.geometry.coil_radius:
        return
    kind, code = (warning, "overstressed-as-mounted") if over else (note, "pull-not-straight")
    yield kind(
        code,
        "mating",
        said(
            "as it is mounted the pull is not straight: pins bear up to {side} aside and a moment "
            "of {turn}, the body tilts by up to {tilt} from the line between them and bows by up "
            "to {bow}; at {load}, {length} long, the least margin is {margin} ({place}), pulled "
            "straight it is {straight}; bring the pins into line, or leave the ends free to turn",
            side=q.force(side, 3),
            turn=q.Quantity("torque", turn, 3),
            tilt=q.degrees(max(x.tilt for x in leans), 3),
            bow=q.length(max(x.bow for x in leans), 3),
            load=q.force(worst.load, 4),
            length=q.length(point.length, 4),
            margin=q.factor(worst.margin),
            place=worst.place.words,
            straight=q.number(straight, places=2),
        ),
    )
