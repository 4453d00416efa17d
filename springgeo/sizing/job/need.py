"""What the spring must do, in four forms, and the load lines that do it.

Above its initial tension a spring's load rises with length along a straight line. Every form of
need becomes one such line, or, where one number is left open, a row of them.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import Annotated, NamedTuple, Self

import numpy as np
from pydantic import Field, model_validator

from springgeo import units
from springgeo.sizing.job.quantity import Energy, Rate, Torque
from springgeo.specification.base import SpecModel, positive, rule
from springgeo.specification.quantity import Angle, Force, Length, Number
from springgeo.text import quantity as q
from springgeo.text.shown import said

# how the load at the shorter length may stand to the mean load, where an energy leaves it open
SHARES = (*np.linspace(0.2, 0.95, 16).tolist(), 0.96, 0.97, 0.98, 0.99, 0.995)

# beyond what springs are coiled for: 100 m, a thousand tonnes
LONGEST, HIGHEST = 1e5, 1e7
# below what is coiled or weighed: a micrometre, a tenth of a milligram
SHORTEST, LOWEST = 1e-3, 1e-6

Share = Annotated[Number, Field(ge=1e-6, lt=1)]


class Line(NamedTuple):
    """A load line: rate k, N/mm, through (L_1, F_1) and (L_2, F_2), mm inside hooks and N."""

    k: float
    L_1: float
    F_1: float
    L_2: float
    F_2: float

    def load(self, length: float) -> float:
        """Return the load at a length, N."""
        return self.F_1 + self.k * (length - self.L_1)


def _coilable(length: float, load: float, field: str = "") -> None:
    """Raise if a length, mm, or a load, N, is beyond what springs are coiled for."""
    for value, most, least, unit, name in (
        (length, LONGEST, SHORTEST, "mm", "length"),
        (load, HIGHEST, LOWEST, "N", "load"),
    ):
        positive(value, unit, name)
        if value > most:
            text = f"a {name} of {value:.4g} {unit} is above {most:g} {unit}; lower it"
            raise rule(f"{name}-too-large", text, field)
        if value < least:
            text = f"a {name} of {value:.4g} {unit} is below {least:g} {unit}; raise it"
            raise rule(f"{name}-too-small", text, field)


class LoadPoint(SpecModel):
    """A load at a length inside hooks; ``tolerance`` is a share of it, 5 %, or a force, 0.8 N."""

    length: Length
    load: Force
    tolerance: Share = 0.05

    @model_validator(mode="before")
    @classmethod
    def _as_share(cls, data: object) -> object:
        if not isinstance(data, Mapping) or not isinstance(data.get("tolerance"), str):
            return data
        try:
            units.parse(data["tolerance"], "number")
        except ValueError:
            with suppress(ValueError, KeyError, ZeroDivisionError):
                force, load = (units.parse(data[k], "force") for k in ("tolerance", "load"))
                return {**data, "tolerance": force / load}
        return data

    @model_validator(mode="after")
    def _above_zero(self) -> Self:
        _coilable(self.length, self.load)
        return self


class Installed(SpecModel):
    """A load at the installed length, a rate, and how far the spring is pulled from there."""

    length: Length
    load: Force
    rate: Rate
    travel: Length
    tolerance: Share = 0.05

    def points(self) -> tuple[LoadPoint, ...]:
        """Return both ends of the travel."""
        positive(self.travel, "mm", "travel")
        positive(self.rate, "N/mm", "rate")
        longer, more = self.length + self.travel, self.load + self.rate * self.travel
        return (
            LoadPoint(length=self.length, load=self.load, tolerance=self.tolerance),
            LoadPoint(length=longer, load=more, tolerance=self.tolerance),
        )


class Stored(SpecModel):
    """Energy taken up between two lengths; ``load`` at the shorter one is open if left out."""

    lengths: tuple[Length, Length]
    energy: Energy
    load: Force | None = None
    tolerance: Share = 0.05

    def lines(self, between: Iterable[float] = ()) -> tuple[Line, ...]:
        """Return the lines of this energy: mean load times travel (trapezium of the line).

        ``between``: further loads at the shorter length, N, where that is open.
        """
        short, long = sorted(self.lengths)
        travel = long - short
        if not travel > 0 or not short > 0:
            raise rule("lengths-equal", "needs two different lengths above zero", "energy.lengths")
        mean = positive(self.energy, "N mm", "energy") / travel
        _coilable(short, mean, "energy")
        _coilable(long, mean, "energy")
        if self.load is not None and not 0 < self.load < mean:
            raise rule(
                "load-too-large",
                said(
                    "{load} must lie between 0 and the mean load {mean} that the energy asks for; "
                    "lower it, or raise the energy",
                    load=q.force(self.load),
                    mean=q.force(mean),
                ),
                "energy.load",
            )
        starts = {self.load} if self.load is not None else {*between, *(s * mean for s in SHARES)}
        return tuple(self.line(f) for f in sorted(starts))

    def line(self, load: float) -> Line:
        """Return the line of this energy from a load at the shorter length, N."""
        short, long = sorted(self.lengths)
        mean = self.energy / (long - short)
        return Line(2 * (mean - load) / (long - short), short, load, long, 2 * mean - load)


class Lever(SpecModel):
    """Torque about a pivot over a range of angles.

    The spring runs from a pin on the lever, ``arm`` from the pivot, to a fixed pin, ``base`` from
    the pivot; an angle is the one between both, at the pivot. Inside hooks the spring is longer
    than the distance of the pins by half of each ``pin_diameters``.
    """

    arm: Length
    base: Length
    angles: Annotated[tuple[Angle, ...], Field(min_length=2, max_length=50)]
    torques: Annotated[tuple[Torque, ...], Field(min_length=2, max_length=50)]
    pin_diameters: tuple[Length, Length] = (0.0, 0.0)
    tolerance: Share = 0.05

    def points(self) -> tuple[LoadPoint, ...]:
        """Return loads at lengths: l² = a² + b² - 2ab cos θ, F = T l/(a b sin θ).

        Source: law of cosines; moment of a force. Known: derived.
        """
        if len(self.angles) != len(self.torques):
            text = f"{len(self.torques)} torques for {len(self.angles)} angles; give one for each"
            raise rule("lists-differ", text, "lever.torques")
        a, b = positive(self.arm, "mm", "arm"), positive(self.base, "mm", "base")
        pins = sum(self.pin_diameters) / 2
        found = []
        for theta, torque in zip(self.angles, self.torques, strict=True):
            if not 0 < theta < math.pi or not torque > 0:
                text = "angles must lie between 0 and 180 deg, torques above zero"
                raise rule("lever-dead-point", text, "lever.angles")
            pull = math.sqrt(a * a + b * b - 2 * a * b * math.cos(theta))
            load = torque * pull / (a * b * math.sin(theta))
            found.append(LoadPoint(length=pull + pins, load=load, tolerance=self.tolerance))
        return tuple(found)


def lines_within(points: tuple[LoadPoint, ...], share: float) -> tuple[Line, ...]:
    """Return the line through the points, then those at the corners of a share of their tolerance.

    The loads at the shortest and the longest length each go down, stay, or go up by ``share`` of
    their tolerance; every point keeps within its own. Raises as `line_through`.
    """
    exact = line_through(points)
    rows = sorted(points, key=lambda p: p.length)
    found = [exact]
    for low, high in itertools.product((0, -1, 1), repeat=2) if share > 0 else ():
        (a, room_a), (b, room_b) = ((p.load, p.load * p.tolerance) for p in (rows[0], rows[-1]))
        F_1 = float(np.clip(exact.F_1 + low * share * room_a, a - room_a, a + room_a))
        F_2 = float(np.clip(exact.F_2 + high * share * room_b, b - room_b, b + room_b))
        k = (F_2 - F_1) / (exact.L_2 - exact.L_1)
        line = Line(k, exact.L_1, F_1, exact.L_2, F_2)
        allowed = all(
            abs(line.load(p.length) - p.load) <= p.tolerance * p.load * (1 + 1e-9) for p in rows
        )
        if k > 0 and allowed and line not in found:
            found.append(line)
    return tuple(found)


def line_through(points: tuple[LoadPoint, ...]) -> Line:
    """Return the line through load-length points, by least squares weighted with tolerance.

    Raises
    ------
    PydanticCustomError
        Fewer than two lengths, loads that do not rise, or a point further off than its tolerance.
    """
    rows = sorted(points, key=lambda p: p.length)
    length, load = (np.array([getattr(p, name) for p in rows]) for name in ("length", "load"))
    if len(rows) < 2 or not length[-1] > length[0]:
        raise rule("points-too-few", "needs loads at two different lengths at least", "points")
    allowed = np.array([p.tolerance for p in rows]) * load
    w = 1 / allowed**2
    middle, mean = float(w @ length / w.sum()), float(w @ load / w.sum())
    slope = float(w @ ((length - middle) * (load - mean)) / (w @ (length - middle) ** 2))
    start = mean - slope * middle
    if not slope > 0:
        text = said(
            "the load must rise with length, and goes from {first} at {short} to {last} at {long};"
            " an extension spring cannot do otherwise",
            first=q.force(load[0]),
            short=q.length(length[0], 4),
            last=q.force(load[-1]),
            long=q.length(length[-1], 4),
        )
        raise rule("points-falling", text, "points")
    off = start + slope * length - load
    worst = int(np.argmax(np.abs(off) / allowed))
    if abs(off[worst]) > allowed[worst] * (1 + 1e-9):
        raise rule(
            "points-not-on-a-line",
            said(
                "no straight load line meets every point: the best one is {off} off {load}"
                " at {length}, where {allowed} are allowed; widen that tolerance or move the "
                "point",
                off=q.force(off[worst], signed=True),
                load=q.force(load[worst]),
                length=q.length(length[worst], 4),
                allowed=q.force(allowed[worst]),
            ),
            "points",
        )
    ends = float(length[0]), float(length[-1])
    return Line(slope, ends[0], start + slope * ends[0], ends[1], start + slope * ends[1])
