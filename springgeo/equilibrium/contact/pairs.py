"""Coils in contact: places one turn apart that press on each other and never pull."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import Index
from springgeo.equilibrium.contact.stand import PLACES, Stand

# the least share of itself, and of the pressing force as drawn, that a step leaves of a force
_FALL, _LEAST = 3e-4, 1e-20
_AWAKE = 0.01
# e to this is none
_FAR_DOWN = -50.0
# forces below this, N, are none: what rounding takes of a pull is more
_NOTHING = 1e-18
# contact this many widths away is no longer felt
FELT = 36.0
# where they lie on the way from the one to the other
_AT = ((np.arange(PLACES) + 0.5) / PLACES)[:, None]
# a shorter piece of wire after the last node that has one a turn before, by share of a cell, is
# left alone
_SHORTEST = 0.02
# nodes about a row of places: low and high at the start, low and high at the end
_SIDE = np.array([-1.0, 1.0, -1.0, 1.0])[:, None, None]
_STARTS = np.array([True, True, False, False])[:, None, None]


@dataclass(frozen=True, eq=False)
class Law:
    """Force over gap ``f = f₀ e^(−g/ℓ)``: ``f₀`` where coils touch, and never a pull.

    The force is an unknown of its own beside the poses, held to ``ln(f/f₀) + g/ℓ = 0``: in this
    form the law is straight, and there is no switch that an iteration could toggle.
    """

    scale: float
    width: float

    def widened(self, by: float) -> Law:
        """Return the law with a softer rise: so many times as wide."""
        return self if by == 1.0 else replace(self, width=by * self.width)

    def at(self, gap: Array) -> Array:
        """Return the forces at gaps, N."""
        force: Array = self.scale * np.exp(-np.clip(gap / self.width, -50.0, 700.0))
        return np.maximum(force, _LEAST * self.scale)

    def linearised(self, force: Array, gap: Array) -> tuple[Array, Array]:
        """Return force and slope over the gap that take a trial force to the law, N and N/mm."""
        off = np.log(force / self.scale) + gap / self.width
        return force * (1 - off), -force / self.width

    def beyond(self, force: Array, straight: Array) -> Array:
        """Return what the law has beyond its straight line, N, where that is at ``straight``.

        With the force's own logarithm straight over the gap, ``f e^x`` for ``f (1 + x)``; a rise
        counts no further than to e times the force.
        """
        x = straight / force - 1
        found: Array = force * (np.exp(np.clip(x, _FAR_DOWN, 1.0)) - 1 - np.minimum(x, 1.0))
        return found

    def awake(self, force: Array, gap: Array) -> Array:
        """Return trial forces that are worth the name wherever coils overlap."""
        return np.maximum(force, np.minimum(self.at(gap), _AWAKE * self.scale))

    def stepped(self, force: Array, aim: Array) -> Array:
        """Return the next trial force on the way to ``aim``: above zero, whatever the aim."""
        result: Array = np.maximum(np.maximum(aim, _FALL * force), _LEAST * self.scale)
        return result


@dataclass(frozen=True, eq=False)
class Pairs:
    """Which wire presses on which: that from ``low[k]`` to ``low[k + 1]`` on that a turn on.

    Coils that roll on one side touch between the nodes, so the gap is asked at several places
    from one pair of nodes to the next, all worth the same length of wire. There the wire is what
    its nodes' places and tangents say (cubic, Hermite); what that misses of the wire's own curve
    it misses on both coils.

    The gap is measured along the drawn line of centres, square to the wire, carried along by the
    nodes' axes (their mean): coils that slide or roll a little stay in touch, to first order as
    round wires do. It is never more than the true distance of the centres less that where they
    touch.

    Attributes
    ----------
    low, high : (k + 1,) int
    length : (k,) float, mm
        Of the lower wire from each node to the next.
    part : (k,) float
        How much of that has wire a turn on: all but where the body ends.
    distance : (PLACES, k) float, mm
        Of the centres where the coils touch.
    lines : (4, 3, PLACES, k) float
        Half the line of centres at each place, as drawn, in the axes of the four nodes about its
        row: low and high at the start, low and high at the end.
    share : float
        Of the pressing force, that each place of a whole row carries: one over the places to a
        turn. Forces of places are told as if each row were whole.
    """

    low: Index = field(default_factory=lambda: np.zeros(0, dtype=np.intp))
    high: Index = field(default_factory=lambda: np.zeros(0, dtype=np.intp))
    length: Array = field(default_factory=lambda: np.zeros(0))
    part: Array = field(default_factory=lambda: np.zeros(0))
    distance: Array = field(default_factory=lambda: np.zeros((PLACES, 0)))
    lines: Array = field(default_factory=lambda: np.zeros((4, 3, PLACES, 0)))
    share: float = 0.0

    def __len__(self) -> int:
        return self.distance.size

    @classmethod
    def of(
        cls, nodes: Index, stride: int, R: Array, p: Array, s: Array, touching: float | None
    ) -> Pairs:
        """Return the pairs of consecutive ``nodes``, ``stride`` to a turn, at drawn poses.

        ``s`` are the nodes' arc lengths; ``touching`` is the distance of the centres where coils
        touch, mm; None if as drawn.
        """
        low, high = nodes[:-stride], nodes[stride:]
        if len(low) < 2:
            return cls()
        length = np.diff(s[low])
        part = np.diff(s[high]) / length
        if part[-1] < _SHORTEST:
            return cls.of(nodes[:-1], stride, R, p, s, touching)
        k = len(length)
        blank = np.full((PLACES, k), np.inf), np.zeros((4, 3, PLACES, k))
        drawn = cls(low, high, length, part, *blank, 1.0 / (stride * PLACES))
        stand = Stand.of(drawn, R, p)
        # square to the wire: then a coil that slides along its neighbour keeps its gap
        apart, along = stand.apart, drawn._along(R, p)
        line = apart - np.sum(apart * along, axis=0) * along
        line /= np.sqrt(np.sum(line * line, axis=0))
        size = np.sum(line * apart, axis=0)
        distance = size if touching is None else np.minimum(size, touching)
        return replace(drawn, distance=distance, lines=stand.seen(line) / 2)

    def _along(self, R: Array, p: Array) -> Array:
        """Return the lower wire's tangents at the places, ``(3, PLACES, k)``."""
        u, near, far = self.part * _AT, self.low[:-1], self.low[1:]
        tangent = R[:, :, 0].T[:, None]
        out = (p[far] - p[near]).T[:, None] * (6 * u * (1 - u) / self.length)
        out += (3 * u - 1) * (u - 1) * tangent[..., near]
        out += (3 * u - 2) * u * tangent[..., far]
        result: Array = out / np.sqrt(np.sum(out * out, axis=0))
        return result

    def places(self, s: Array) -> Array:
        """Return the arc lengths of the lower places, ``(k PLACES,) mm``, of those of the nodes."""
        found: Array = s[self.low[:-1], None] + (self.part * self.length)[:, None] * _AT.T
        return found.ravel()

    @cached_property
    def weight(self) -> Array:
        """What the force of each place is worth, ``(k PLACES,)``: less in the last row."""
        return np.repeat(self.part, PLACES)

    @cached_property
    def _at(self) -> Array:
        """Share of the way from the start of each row to its end, ``(4, PLACES, k)``."""
        return np.stack([self.part, np.ones_like(self.part)] * 2)[:, None] * _AT

    @cached_property
    def ways(self) -> Array:
        """What the way between the centres takes of the nodes, ``(8, PLACES, k)``.

        Of the four points, and of the four tangents, mm.
        """
        u, part = self._at, self.part
        length = self.length * np.stack([np.ones_like(part), part] * 2)[:, None]
        place = np.where(_STARTS, (1 + 2 * u) * (1 - u) ** 2, (3 - 2 * u) * u**2)
        steep = length * np.where(_STARTS, u * (1 - u) ** 2, (u - 1) * u**2)
        return np.concatenate([_SIDE * place, _SIDE * steep])

    @cached_property
    def half(self) -> Array:
        """What the line of centres takes of each node's axes, ``(4, 3, PLACES, k)``."""
        lever = np.where(_STARTS, 1 - self._at, self._at)
        found: Array = lever[:, None] * self.lines
        return found

    def gaps(self, R: Array, p: Array) -> Array:
        """Return the gaps of the places, ``(k PLACES,) mm``."""
        return Stand.of(self, R, p).gap.T.ravel()

    def wrench(self, force: Array, R: Array, p: Array) -> Array:
        """Return the wire's wrench by the places' forces (``Stand.wrench``)."""
        if not np.any(force > _NOTHING):
            return np.zeros((len(R) - 1, 6))
        return Stand.of(self, R, p).wrench(force, R, p)

    @cached_property
    def nodes(self) -> Index:
        """The four nodes about each row of places, ``(4, k)``."""
        return np.stack([self.low[:-1], self.high[:-1], self.low[1:], self.high[1:]])
