"""Coils in contact: places one turn apart that press on each other and never pull."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.curve.motion import apply, cross, transposed

Index = npt.NDArray[np.intp]
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
# what the way between the centres, there, takes of the four nodes' points and tangents, and what
# the line of centres takes of their lines, ``(4, PLACES)``: low and high at the start, at the end
PLACE = np.kron(np.stack([(1 + 2 * _AT) * (1 - _AT) ** 2, (3 - 2 * _AT) * _AT**2]), [[-1], [1]])
STEEP = np.kron(np.stack([_AT * (1 - _AT) ** 2, (_AT - 1) * _AT**2]), [[-1], [1]])
LEVER = np.kron(np.stack([1 - _AT, _AT]), [[1], [1]])


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
        Of wire from each pair to the next.
    distance : (k, PLACES) float, mm
        Of the centres where the coils touch.
    low_line, high_line : (k + 1, 3) float
        Half the line of centres in the axes of either node.
    share : float
        Of the pressing force, that each place carries: one over the places to a turn.
    """

    low: Index = field(default_factory=lambda: np.zeros(0, dtype=np.intp))
    high: Index = field(default_factory=lambda: np.zeros(0, dtype=np.intp))
    length: Array = field(default_factory=lambda: np.zeros(0))
    distance: Array = field(default_factory=lambda: np.zeros((0, PLACES)))
    low_line: Array = field(default_factory=lambda: np.zeros((0, 3)))
    high_line: Array = field(default_factory=lambda: np.zeros((0, 3)))
    share: float = 0.0

    def __len__(self) -> int:
        return self.distance.size

    @property
    def reach(self) -> int:
        """Nodes from one that presses to the furthest that it may press on."""
        return int(self.high[1] - self.low[0]) if len(self) else 1

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
        # square to the wire: then a coil that slides along its neighbour keeps its gap
        apart, along = p[high] - p[low], R[low, :, 0]
        line = apart - np.sum(apart * along, axis=1)[:, None] * along
        line /= 2 * np.sqrt(np.sum(line * line, axis=1))[:, None]
        own = [apply(transposed(R[at]), line) for at in (low, high)]
        length = np.diff(s[low])
        nowhere = np.full((len(length), PLACES), np.inf)
        drawn = cls(low, high, length, nowhere, own[0], own[1], 1.0 / (stride * PLACES))
        stand = Stand.of(drawn, R, p)
        size = np.sum(stand.line * stand.apart, axis=2)
        return replace(drawn, distance=size if touching is None else np.minimum(size, touching))

    def places(self, s: Array) -> Array:
        """Return the arc lengths of the lower places, ``(k PLACES,) mm``, of those of the nodes."""
        found: Array = s[self.low[:-1], None] + self.length[:, None] * _AT
        return found.ravel()

    def gaps(self, R: Array, p: Array) -> Array:
        """Return the gaps of the places, ``(k PLACES,) mm``."""
        return Stand.of(self, R, p).gap.ravel()

    def wrench(self, force: Array, R: Array, p: Array) -> Array:
        """Return the wire's wrench by the places' forces (``Stand.wrench``)."""
        if not np.any(force > _NOTHING):
            return np.zeros((len(R) - 1, 6))
        return Stand.of(self, R, p).wrench(force, R, p)

    @cached_property
    def lines(self) -> Array:
        """Half the line of centres in the axes of the four nodes about each row of places."""
        low, high = self.low_line, self.high_line
        return np.stack([low[:-1], high[:-1], low[1:], high[1:]], axis=1)

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
    half : (k, 4, 3) float
        Half the line of centres, in the axes of the nodes.
    length : (k, 1, 1) float, mm
        Of wire from one pair to the next.
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
    length: Array
    axes: Array
    p: Array
    line: Array
    apart: Array
    gap: Array

    @classmethod
    def of(cls, pairs: Pairs, R: Array, p: Array) -> Stand:
        """Return the stand of pairs at the poses of all nodes."""
        nodes, half, length = pairs.nodes, pairs.lines, pairs.length[:, None, None]
        axes, at = R[nodes.T], p[nodes.T]
        line = LEVER.T @ (axes @ half[..., None])[..., 0]
        apart = PLACE.T @ at + length * (STEEP.T @ axes[..., 0])
        # far from each other the line no longer says where the coils would touch: a wire that
        # has turned away from it stands beside its neighbour, not in it
        true = np.sqrt(np.sum(apart * apart, axis=2))
        gap = np.sum(line * apart, axis=2)
        gap = np.where(true > _FAR * pairs.distance, true, gap) - pairs.distance
        return cls(nodes, half, length, axes, at, line, apart, gap)

    def only(self, rows: Index) -> Stand:
        """Return the stand of some rows of places."""
        others = (self.half, self.length, self.axes, self.p, self.line, self.apart, self.gap)
        return Stand(self.nodes[:, rows], *(x[rows] for x in others))

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
        line, apart, half = self.own_line, self.own_apart, self.half[..., None]
        steep = self.length * STEEP
        out = np.empty((len(line), 4, 6, PLACES))
        out[:, :, :3] = PLACE[:, None] * line
        out[:, :, 3] = LEVER * (half[:, :, 1] * apart[:, :, 2] - half[:, :, 2] * apart[:, :, 1])
        # and the tangent, axis 1, across the line
        out[:, :, 4] = LEVER * (half[:, :, 2] * apart[:, :, 0] - half[:, :, 0] * apart[:, :, 2])
        out[:, :, 4] -= steep * line[:, :, 2]
        out[:, :, 5] = LEVER * (half[:, :, 0] * apart[:, :, 1] - half[:, :, 1] * apart[:, :, 0])
        out[:, :, 5] += steep * line[:, :, 1]
        return out

    def on_nodes(self, force: Array, count: int) -> Array:
        """Return what the places' forces ``(k PLACES,) N`` do to the nodes, ``(count, 6)``.

        In space, moments about the origin.
        """
        nodes = np.zeros((count, 6))
        own = (self.opens @ force.reshape(-1, 1, PLACES, 1)).reshape(-1, 4, 2, 3)
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
