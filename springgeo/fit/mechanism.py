"""A spring between a fixed pin and one that moves on an arc or a line: length, load, torque, pose.

>>> import springgeo as sg
>>> from springgeo.fit import mechanism, safe_length
>>> spring = sg.Spring.from_preset("gate-latch")
>>> lever = mechanism.Lever(pivot=(0, 0), radius=25, start=0.6, end=2.5)
>>> motion = mechanism.run(spring.load_curve, (0, -20), lever, pins=(5, 5),
...                        longest=safe_length(spring))
>>> float(abs(motion.effort).max()) > 0
True

The mechanism lies in its own plane (x, y); the pins stand across it, so the spring's loops must
stand in one plane (``ends.angle`` 0). The length inside hooks is the distance between the pins'
middles plus their radii, for each loop pulls on the far side; where the hooks sit ``offset`` beside
each other along the pins, the way from the one to the other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array, unit
from springgeo.errors import refused
from springgeo.findings import Finding, warning
from springgeo.text import quantity as q
from springgeo.text.shown import said

Point = tuple[float, float]


class Line(Protocol):
    """Load over length of a spring, as ``Spring.load_curve``: N, mm."""

    @property
    def free_length(self) -> float:
        """Inside hooks, mm."""
        ...

    def loads(self, lengths: Array) -> tuple[Array, Array]:
        """Return loads, N, and stored energy, N mm, at lengths ``(n,) float, mm``."""
        ...


@dataclass(frozen=True)
class Lever:
    """The moving pin turns about ``pivot`` at ``radius`` mm; angles in rad from +x."""

    pivot: Point
    radius: float
    start: float
    end: float

    def at(self, u: Array) -> tuple[Array, Array, Array]:
        """Return angle ``(n,)``, place and its change per rad, ``(n, 2)``, at ``u`` from 0 to 1."""
        angle = self.start + (self.end - self.start) * u
        out = self.radius * np.column_stack([np.cos(angle), np.sin(angle)])
        return angle, np.array(self.pivot) + out, np.column_stack([-out[:, 1], out[:, 0]])


@dataclass(frozen=True)
class Slide:
    """The moving pin runs straight from ``start`` to ``end``, mm."""

    start: Point
    end: Point

    def at(self, u: Array) -> tuple[Array, Array, Array]:
        """Return travel ``(n,)``, place and its change per mm, ``(n, 2)``, at ``u`` from 0 to 1."""
        whole = np.subtract(self.end, self.start)
        length = float(np.hypot(*whole))
        place = np.array(self.start) + u[:, None] * whole
        return length * u, place, np.broadcast_to(whole / length, place.shape)


@dataclass(frozen=True, eq=False)
class Motion:
    """What happens along the motion; every array has one row per station.

    Attributes
    ----------
    drive : (n,) float, rad or mm
        Angle of the lever, or travel of the slide.
    length, load, energy : (n,) float; mm, N, N mm
        Below the free length the spring is slack: no load, no energy.
    slack : (n,) bool
    pins : (float, float), mm
        Diameters of the fixed and the moving pin.
    aside : (n,) float, N
        Side force of the moving pin on the spring along the pins, and of the fixed one against it.
    effort : (n,) float, N mm or N
        What the spring exerts along the drive: torque about the pivot, or force along the line;
        positive helps the drive to grow. It is −d energy / d drive.
    translation, rotation : (n, 3), (n, 3, 3) float
        Pose of the spring's frame: ``world = translation + rotation @ point``; the fixed pin's
        hook is at z = 0, the pins' direction is +z: the spring's y, but for an ``offset``.
    findings : tuple of Finding
    """

    drive: Array
    length: Array
    load: Array
    energy: Array
    slack: npt.NDArray[np.bool_]
    pins: tuple[float, float]
    aside: Array
    effort: Array
    translation: Array
    rotation: Array
    findings: tuple[Finding, ...]


def run(
    spring: Line,
    fixed: Point,
    motion: Lever | Slide,
    *,
    pins: tuple[float, float] = (0.0, 0.0),
    offset: float = 0.0,
    longest: float | None = None,
    stations: int = 181,
) -> Motion:
    """Return what a spring does between a fixed pin and a moving one.

    Parameters
    ----------
    spring : Line
        Load over length: ``Spring.load_curve``.
    fixed : (x, y) float, mm
        Middle of the fixed pin; the first end hangs on it.
    motion : Lever or Slide
    pins : (float, float), mm
        Diameters of the fixed and the moving pin.
    offset : float, mm
        How far the moving hook sits beside the fixed one along the pins.
    longest : float, optional
        Greatest safe length inside hooks, mm, as ``springgeo.fit.safe_length`` gives it; passing
        it is a finding.
    stations : int

    Raises
    ------
    SpecError
        The pins meet on the way, or fewer than two stations are asked for.
    """
    if stations < 2:
        raise refused("bad-value", "stations", f"{stations} is below 2; raise it")
    drive, place, change = motion.at(np.linspace(0.0, 1.0, stations))
    apart = place - np.array(fixed)
    distance = np.hypot(apart[:, 0], apart[:, 1])
    near = float(distance.min())
    if near <= sum(pins) / 2 or near == 0.0:
        raise refused(
            "pins-meet",
            "motion",
            said(
                "the pins' middles come within {near}, not more than {radii}, the sum of their "
                "radii; move the fixed pin or shorten the motion",
                **q.lengths(4, near=near, radii=sum(pins) / 2),
            ),
        )
    if not math.isfinite(offset):
        raise refused("bad-value", "offset", f"{offset} is not finite; give a length")
    level = distance + sum(pins) / 2
    length = np.hypot(level, offset)
    stretch = length - spring.free_length
    slack = stretch < 0
    load, energy = spring.loads(length)
    along = apart / distance[:, None]
    effort = -load * level / length * np.sum(along * change, axis=1)
    translation, rotation = _pose(np.array(fixed), along, pins[0] / 2, offset / level)
    found = _findings(length, spring.free_length, longest)
    aside = load * offset / length
    return Motion(
        drive, length, load, energy, slack, pins, aside, effort, translation, rotation, found
    )


def dead_centres(fixed: Point, lever: Lever) -> tuple[float, ...]:
    """Return the lever's angles, rad, in its range at which the pull goes through the pivot."""
    toward = math.atan2(fixed[1] - lever.pivot[1], fixed[0] - lever.pivot[0])
    low, high = sorted((lever.start, lever.end))
    first = math.ceil((low - toward) / math.pi)
    last = math.floor((high - toward) / math.pi)
    return tuple(toward + k * math.pi for k in range(first, last + 1))


def _pose(fixed: Array, along: Array, radius: float, rise: Array) -> tuple[Array, Array]:
    level = np.column_stack([along, np.zeros(len(along))])
    z = unit(level + rise[:, None] * np.array([0.0, 0.0, 1.0]))
    x = np.cross(np.array([0.0, 0.0, 1.0]), level)
    rotation = np.stack([x, np.cross(z, x), z], axis=2)
    return np.append(fixed, 0.0) - radius * level, rotation


def _findings(length: Array, free: float, longest: float | None) -> tuple[Finding, ...]:
    found = []
    least, most = float(length.min()), float(length.max())
    if least < free:
        found.append(
            warning(
                "slack",
                "motion",
                said(
                    "the length falls to {least}, below the free length {free}: the spring hangs "
                    "loose there and may drop off; move the fixed pin away or use a shorter spring",
                    **q.lengths(5, least=least, free=free),
                ),
            )
        )
    if longest is not None and most > longest:
        found.append(
            warning(
                "over-travel-unsafe",
                "motion",
                said(
                    "the length reaches {most}, beyond the safe {safe}; put a travel stop before "
                    "it, or shorten the lever",
                    **q.lengths(5, most=most, safe=longest),
                ),
            )
        )
    return tuple(found)
