"""How coils stand to each other at the places where they may touch.

All entry by entry (``curve.entries``): places and rows of places come last.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property
from typing import Protocol

import numpy as np

from springgeo.curve.entries import across, many
from springgeo.curve.frame import Array
from springgeo.curve.motion import Index, apply, cross, transposed

# places between one pair of nodes and the next
PLACES = 4
# centres further apart than this many times where they touch are not in contact
_FAR = 2.0


class Touching(Protocol):
    """Which wire presses on which (``contact.Pairs``)."""

    @property
    def nodes(self) -> Index:
        """The four nodes about each row of places, ``(4, k)``."""

    @property
    def half(self) -> Array:
        """What the line of centres takes of each node's axes, ``(4, 3, PLACES, k)``."""

    @property
    def ways(self) -> Array:
        """What the way between the centres takes of the nodes, ``(8, PLACES, k)``."""

    @property
    def part(self) -> Array:
        """What the force of a place is worth, ``(k,)``."""

    @property
    def distance(self) -> Array:
        """Of the centres where the coils touch, ``(PLACES, k) mm``."""


@dataclass(frozen=True, eq=False)
class Stand:
    """How coils stand to each other at their places.

    About each row of places stand four nodes: low and high at its start, low and high at its end.

    Attributes
    ----------
    nodes : (4, k) int
    half : (4, 3, PLACES, k) float
        What each node's axes have of the line of centres at each place, in these axes.
    ways : (8, PLACES, k) float
        What the way between the centres takes of the nodes' points, and of their tangents (mm).
    weight : (k,) float
        What the force of a place is worth.
    axes : (4, 3, 3, k) float
        Of the nodes.
    p : (4, 3, k) float, mm
        Where they are.
    line, apart : (3, PLACES, k) float
        Line of centres, and the way between them, mm.
    gap : (PLACES, k) float, mm
    """

    nodes: Index
    half: Array
    ways: Array
    weight: Array
    axes: Array
    p: Array
    line: Array
    apart: Array
    gap: Array

    @classmethod
    def of(cls, pairs: Touching, R: Array, p: Array) -> Stand:
        """Return the stand of pairs at the poses of all nodes."""
        nodes = pairs.nodes
        axes = np.ascontiguousarray(R[nodes].transpose(0, 2, 3, 1))
        at = np.ascontiguousarray(p[nodes].transpose(0, 2, 1))
        line = np.einsum("xijk,xjpk->ipk", axes, pairs.half)
        apart = np.einsum("xpk,xik->ipk", pairs.ways, np.concatenate([at, axes[:, :, 0]]))
        # far from each other the line no longer says where the coils would touch: a wire that
        # has turned away from it stands beside its neighbour, not in it
        true = np.sqrt(np.sum(apart * apart, axis=0))
        gap = np.sum(line * apart, axis=0)
        gap = np.where(true > _FAR * pairs.distance, true, gap) - pairs.distance
        return cls(nodes, pairs.half, pairs.ways, pairs.part, axes, at, line, apart, gap)

    def only(self, rows: Index) -> Stand:
        """Return the stand of some rows of places."""
        some = Stand(*(np.take(getattr(self, x.name), rows, axis=-1) for x in fields(self)))
        for name in ("own_line", "own_apart", "opens"):
            if name in vars(self):  # known already
                vars(some)[name] = np.take(vars(self)[name], rows, axis=-1)
        return some

    def seen(self, v: Array) -> Array:
        """Return vectors ``(3, PLACES, k)`` in the axes of each node, ``(4, 3, PLACES, k)``."""
        found: Array = np.einsum("xijk,ipk->xjpk", self.axes, v)
        return found

    @cached_property
    def own_line(self) -> Array:
        """The line of centres in the axes of each node, ``(4, 3, PLACES, k)``."""
        return self.seen(self.line)

    @cached_property
    def own_apart(self) -> Array:
        """The way between the centres in the axes of each node, ``(4, 3, PLACES, k) mm``."""
        return self.seen(self.apart)

    @cached_property
    def opens(self) -> Array:
        """Change of the gaps per twist of the nodes, each in its axes, ``(4, 6, PLACES, k)``."""
        line, place, steep = self.own_line, self.ways[:4], self.ways[4:]
        out = np.empty((4, 6, *self.gap.shape))
        np.multiply(place[:, None], line, out=out[:, :3])
        turn = out[:, 3:].swapaxes(0, 1)
        turn[:] = across(self.half.swapaxes(0, 1), self.own_apart.swapaxes(0, 1))
        # and the tangent, axis 1, across the line
        turn[1] -= steep * line[:, 2]
        turn[2] += steep * line[:, 1]
        return out

    def on_nodes(self, force: Array, count: int) -> Array:
        """Return what the places' forces ``(k PLACES,) N`` do to the nodes, ``(count, 6)``.

        In space, moments about the origin.
        """
        borne = self.weight * force.reshape(-1, PLACES).T
        own = np.einsum("xipk,pk->xik", self.opens, borne)
        push = np.einsum("xijk,xjk->xik", self.axes, own[:, :3])
        moment = np.einsum("xijk,xjk->xik", self.axes, own[:, 3:])
        moment += across(self.p.swapaxes(0, 1), push.swapaxes(0, 1)).swapaxes(0, 1)
        nodes = np.zeros((6, count))
        for at, force_there, moment_there in zip(self.nodes, push, moment, strict=True):
            nodes[:3, at] += force_there
            nodes[3:, at] += moment_there
        return many(nodes)

    def wrench(self, force: Array, R: Array, p: Array) -> Array:
        """Return the wire's wrench at the far end of each cell, ``(n, 6)``, in the node's axes.

        What the places' forces ``(k PLACES,) N`` alone call for: their sum beyond the section.
        """
        nodes = self.on_nodes(force, len(R))
        beyond = np.cumsum(nodes[::-1], axis=0)[::-1][1:]
        back, push = transposed(R[1:]), beyond[:, :3]
        moment = beyond[:, 3:] - cross(p[1:], push)
        return np.concatenate([apply(back, push), apply(back, moment)], axis=1)
