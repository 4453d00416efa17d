"""Coils in contact: places one turn apart that press on each other and never pull."""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import Index, apply, cross, transposed

# the least share of itself, and of the pressing force as drawn, that a step leaves of a force
_FALL, _LEAST = 0.01, 1e-20
_AWAKE = 0.01
# forces below this, N, are none: what rounding takes of a pull is more
_NOTHING = 1e-18
# centres further apart than this many times where they touch are not in contact
_FAR = 2.0
# contact this many widths away is no longer felt
FELT = 36.0
# places between one pair of nodes and the next
PLACES = 4
# where they lie on the way from the one to the other
_AT = (np.arange(PLACES) + 0.5) / PLACES
# a shorter piece of wire after the last node that has one a turn before, by share of a cell, is
# left alone
_SHORTEST = 0.02
# nodes about a row of places: low and high at the start, low and high at the end
_SIDE = np.array([-1.0, 1.0, -1.0, 1.0])[:, None]


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
    distance : (k, PLACES) float, mm
        Of the centres where the coils touch.
    lines : (k, 4, 3, PLACES) float
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
    distance: Array = field(default_factory=lambda: np.zeros((0, PLACES)))
    lines: Array = field(default_factory=lambda: np.zeros((0, 4, 3, PLACES)))
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
        blank = np.zeros((len(length), 4, 3, PLACES)), np.full((len(length), PLACES), np.inf)
        drawn = cls(low, high, length, part, blank[1], blank[0], 1.0 / (stride * PLACES))
        stand = Stand.of(drawn, R, p)
        # square to the wire: then a coil that slides along its neighbour keeps its gap
        apart, along = stand.apart, drawn._along(R, p)
        line = apart - np.sum(apart * along, axis=2)[..., None] * along
        line /= np.sqrt(np.sum(line * line, axis=2))[..., None]
        lines = transposed(stand.axes) @ transposed(line)[:, None] / 2
        size = np.sum(line * apart, axis=2)
        distance = size if touching is None else np.minimum(size, touching)
        return replace(drawn, distance=distance, lines=lines)

    def _along(self, R: Array, p: Array) -> Array:
        """Return the lower wire's tangents at the places, ``(k, PLACES, 3)``."""
        u, length = self.part[:, None] * _AT, self.length[:, None]
        near, far = self.low[:-1], self.low[1:]
        chord = (p[far] - p[near])[:, None] * (6 * u * (1 - u) / length)[..., None]
        out = chord + ((3 * u - 1) * (u - 1))[..., None] * R[near, None, :, 0]
        out += ((3 * u - 2) * u)[..., None] * R[far, None, :, 0]
        result: Array = out / np.sqrt(np.sum(out * out, axis=2))[..., None]
        return result

    def places(self, s: Array) -> Array:
        """Return the arc lengths of the lower places, ``(k PLACES,) mm``, of those of the nodes."""
        found: Array = s[self.low[:-1], None] + (self.part * self.length)[:, None] * _AT
        return found.ravel()

    @cached_property
    def weight(self) -> Array:
        """What the force of each place is worth, ``(k PLACES,)``: less in the last row."""
        return np.repeat(self.part, PLACES)

    @cached_property
    def _at(self) -> Array:
        """Share of the way from the start of each row to its end, ``(k, 4, PLACES)``."""
        part = self.part[:, None, None]
        return np.concatenate([part, np.ones_like(part)] * 2, axis=1) * _AT

    @cached_property
    def place(self) -> Array:
        """What the way between the centres takes of the four nodes' points, ``(k, 4, PLACES)``."""
        u = self._at
        starts = np.arange(4)[:, None] < 2
        found: Array = _SIDE * np.where(starts, (1 + 2 * u) * (1 - u) ** 2, (3 - 2 * u) * u**2)
        return found

    @cached_property
    def steep(self) -> Array:
        """What it takes of their tangents, ``(k, 4, PLACES) mm``."""
        u, part = self._at, self.part[:, None, None]
        length = self.length[:, None, None] * np.concatenate([np.ones_like(part), part] * 2, axis=1)
        starts = np.arange(4)[:, None] < 2
        found: Array = _SIDE * length * np.where(starts, u * (1 - u) ** 2, (u - 1) * u**2)
        return found

    @cached_property
    def lever(self) -> Array:
        """What the line of centres takes of the four nodes' lines, ``(k, 4, PLACES)``."""
        return np.where(np.arange(4)[:, None] < 2, 1 - self._at, self._at)

    def gaps(self, R: Array, p: Array) -> Array:
        """Return the gaps of the places, ``(k PLACES,) mm``."""
        return Stand.of(self, R, p).gap.ravel()

    def wrench(self, force: Array, R: Array, p: Array) -> Array:
        """Return the wire's wrench by the places' forces (``Stand.wrench``)."""
        if not np.any(force > _NOTHING):
            return np.zeros((len(R) - 1, 6))
        return Stand.of(self, R, p).wrench(force, R, p)

    @cached_property
    def nodes(self) -> Index:
        """The four nodes about each row of places, ``(4, k)``."""
        return np.stack([self.low[:-1], self.high[:-1], self.low[1:], self.high[1:]])


@dataclass(frozen=True, eq=False)
class Stand:
    """How coils stand to each other at their places.

    About each row of places stand four nodes: low and high at its start, low and high at its end.

    Attributes
    ----------
    nodes : (4, k) int
    half : (k, 4, 3, PLACES) float
        Half the line of centres at each place, in the axes of the nodes.
    place, steep, lever : (k, 4, PLACES) float
        What way and line take of the nodes' points, tangents (mm) and lines.
    weight : (k, 1) float
        What the force of a place is worth.
    axes : (k, 4, 3, 3) float
        Of the nodes.
    p : (k, 4, 3) float, mm
        Where they are.
    line, apart : (k, PLACES, 3) float
        Line of centres, and the way between them, mm.
    gap : (k, PLACES) float, mm
    """

    nodes: Index
    half: Array
    place: Array
    steep: Array
    lever: Array
    weight: Array
    axes: Array
    p: Array
    line: Array
    apart: Array
    gap: Array

    @classmethod
    def of(cls, pairs: Pairs, R: Array, p: Array) -> Stand:
        """Return the stand of pairs at the poses of all nodes."""
        nodes, half = pairs.nodes, pairs.lines
        axes, at = R[nodes.T], p[nodes.T]
        line = np.sum(pairs.lever[:, :, None] * (axes @ half), axis=1).swapaxes(1, 2)
        apart = transposed(pairs.place) @ at + transposed(pairs.steep) @ axes[..., 0]
        # far from each other the line no longer says where the coils would touch: a wire that
        # has turned away from it stands beside its neighbour, not in it
        true = np.sqrt(np.sum(apart * apart, axis=2))
        gap = np.sum(line * apart, axis=2)
        gap = np.where(true > _FAR * pairs.distance, true, gap) - pairs.distance
        of = (pairs.place, pairs.steep, pairs.lever, pairs.part[:, None])
        return cls(nodes, half, *of, axes, at, line, apart, gap)

    def only(self, rows: Index) -> Stand:
        """Return the stand of some rows of places."""
        others = [getattr(self, x.name)[rows] for x in fields(self) if x.name != "nodes"]
        return Stand(self.nodes[:, rows], *others)

    @cached_property
    def own_line(self) -> Array:
        """The line of centres in the axes of each node, ``(k, 4, 3, PLACES)``."""
        found: Array = transposed(self.axes) @ transposed(self.line)[:, None]
        return found

    @cached_property
    def own_apart(self) -> Array:
        """The way between the centres in the axes of each node, ``(k, 4, 3, PLACES) mm``."""
        found: Array = transposed(self.axes) @ transposed(self.apart)[:, None]
        return found

    @cached_property
    def opens(self) -> Array:
        """Change of the gaps per twist of the nodes, each in its axes, ``(k, 4, 6, PLACES)``."""
        line, apart, half = self.own_line, self.own_apart, self.half
        out = np.empty((len(line), 4, 6, PLACES))
        out[:, :, :3] = self.place[:, :, None] * line
        out[:, :, 3] = self.lever * (
            half[:, :, 1] * apart[:, :, 2] - half[:, :, 2] * apart[:, :, 1]
        )
        # and the tangent, axis 1, across the line
        out[:, :, 4] = self.lever * (
            half[:, :, 2] * apart[:, :, 0] - half[:, :, 0] * apart[:, :, 2]
        )
        out[:, :, 4] -= self.steep * line[:, :, 2]
        out[:, :, 5] = self.lever * (
            half[:, :, 0] * apart[:, :, 1] - half[:, :, 1] * apart[:, :, 0]
        )
        out[:, :, 5] += self.steep * line[:, :, 1]
        return out

    def on_nodes(self, force: Array, count: int) -> Array:
        """Return what the places' forces ``(k PLACES,) N`` do to the nodes, ``(count, 6)``.

        In space, moments about the origin.
        """
        nodes = np.zeros((count, 6))
        borne = self.weight * force.reshape(-1, PLACES)
        own = (self.opens @ borne[:, None, :, None]).reshape(-1, 4, 2, 3)
        space = own @ transposed(self.axes)
        space[:, :, 1] += cross(self.p, space[:, :, 0])
        for at, borne in zip(self.nodes, space.reshape(-1, 4, 6).swapaxes(0, 1), strict=True):
            nodes[at] += borne
        return nodes

    def wrench(self, force: Array, R: Array, p: Array) -> Array:
        """Return the wire's wrench at the far end of each cell, ``(n, 6)``, in the node's axes.

        What the places' forces ``(k PLACES,) N`` alone call for: their sum beyond the section.
        """
        nodes = self.on_nodes(force, len(R))
        beyond = np.cumsum(nodes[::-1], axis=0)[::-1][1:]
        back, push = transposed(R[1:]), beyond[:, :3]
        moment = beyond[:, 3:] - cross(p[1:], push)
        return np.concatenate([apply(back, push), apply(back, moment)], axis=1)
