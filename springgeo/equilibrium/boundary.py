"""How the two ends are held: where the pull acts, and what turning each end is left."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array, cross, unit
from springgeo.curve.motion import rotation_vector, skew
from springgeo.ends.protocol import Turning

# turnings of ``Support.facing`` that are held; the last is about the pull
_HELD = {"free": (), "kept": (2,), "swivelling": (0, 1), "held": (0, 1, 2)}
_ROUNDING = 1e-12


@dataclass(frozen=True, eq=False)
class Support:
    """One end of the loaded wire.

    Attributes
    ----------
    turning : "free", "kept", "swivelling" or "held"
    offset : (3,) float, mm
        From the wire's last loaded node to the point where the pull acts, in the node's axes: a
        rigid grip. Zero for a hook.
    turned : (3, 3) float
        How the pin, or whatever holds the end, stands turned from where the drawn end has it.
    """

    turning: Turning = "free"
    offset: Array = field(default_factory=lambda: np.zeros(3))
    turned: Array = field(default_factory=lambda: np.eye(3))

    def point(self, R: Array, p: Array) -> Array:
        """Return where the pull acts, ``(3,) mm``, at a pose of the node."""
        at: Array = p + R @ self.offset
        return at

    @property
    def held(self) -> tuple[int, ...]:
        """Which of the three turnings of ``facing`` are held."""
        return _HELD[self.turning]

    def facing(self, R: Array, drawn: Array) -> tuple[Array, Array]:
        """Return the axes of turning, and how far the end has yet to turn about each.

        Returns
        -------
        (3, 3) float
            The last one is that about the pull, for a swivelling end about its own axis.
        (3,) float, rad
            To where it is held; what is not held has no meaning.
        """
        wanted = self.turned @ drawn
        if self.turning == "swivelling":
            axis, now = self.turned[:, 2], R @ drawn[2]
            across = unit(cross(_level(self.turned[:, 0], axis), axis))
            axes = np.array([across, cross(axis, across), axis]).T
            tip = cross(now, axis)
            size = float(np.sqrt(tip @ tip))
            angle = math.atan2(size, float(now @ axis))
            back = tip * (angle / size if size > _ROUNDING else 1.0)
            # about its own axis, where that is held, it stands as drawn, whatever the way there
            about = float(axis @ (R @ rotation_vector((R.T @ wanted)[None])[0]))
            return axes, np.array([*(axes.T[:2] @ back), about])
        axes, about = facing(R, wanted)
        if self.turning == "held":
            return axes, axes.T @ (R @ rotation_vector((R.T @ wanted)[None])[0])
        return axes, np.array([0.0, 0.0, about])

    def carrier(self, R: Array, axes: Array) -> Array:
        """Return T, ``(6, 6)``: motion of the point in space and turning to the node's twist."""
        T = np.zeros((6, 6))
        T[:3, :3] = R.T
        T[3:, 3:] = own = R.T @ axes
        if self._gripped:
            T[:3, 3:] = skew(self.offset) @ own
        return T

    @cached_property
    def _gripped(self) -> bool:
        return bool(self.offset.any())

    def rising(self, R: Array) -> Array:
        """Return how fast the point of pull rises along +z with a twist of the node, ``(6,)``."""
        level: Array = R[2]
        return np.concatenate([level, cross(self.offset, level)])

    def couple(self, R: Array, drawn: Array, wrench: Array) -> Array:
        """Return the couple of the support in space, ``(3,) N mm``, of a wrench on its node."""
        whole: Array = R @ wrench[3:] - cross(R @ self.offset, R @ wrench[:3])
        if len(self.held) in (0, 3):
            return whole if self.held else np.zeros(3)
        axes = self.facing(R, drawn)[0][:, list(self.held)]
        borne: Array = axes @ (axes.T @ whole)
        return borne

    def load(self, R: Array, pull: Pull) -> tuple[Array, Array]:
        """Return a dead load on the point as the node's wrench, and its slope.

        ``(6,)`` and ``(6, 6)``, the latter per twist of the node.
        """
        force, couple = R.T @ pull.force, R.T @ pull.couple
        slope = np.zeros((6, 6))
        slope[:3, 3:] = skew(force)
        slope[3:, 3:] = skew(couple)
        if self._gripped:
            slope[3:, 3:] += skew(self.offset) @ slope[:3, 3:]
        return np.concatenate([force, cross(self.offset, force) + couple]), slope


@dataclass(frozen=True, eq=False)
class Pull:
    """What a load of one newton is: a force in space, and a couple if there is one.

    Attributes
    ----------
    force : (3,) float
    couple : (3,) float, mm
    """

    force: Array = field(default_factory=lambda: np.array([0.0, 0.0, 1.0]))
    couple: Array = field(default_factory=lambda: np.zeros(3))

    def times(self, load: float) -> Pull:
        """Return the load of so many newtons."""
        return Pull(load * self.force, load * self.couple)


@dataclass(frozen=True, eq=False)
class Supports:
    """Both ends: A's point held in space, B's pulled along +z.

    ``aside``: where B's point stands beside A's, x and y, ``(2,) mm``; None where it may move
    aside, so that the pull runs from the one to the other. ``spins``: whether the whole spring may
    turn about the pull where neither end is kept from it.
    """

    a: Support
    b: Support
    aside: Array | None = None
    spins: bool = False

    @property
    def follow(self) -> bool:
        """Whether the spring stands as its first end's turning about the pull alone says."""
        return self.aside is None and not self.b.held and not {0, 1} & {*self.a.held}

    @property
    def held_a(self) -> list[int]:
        """Held motions of A: its point, and turning; the last is about the pull.

        Where neither end is kept from turning about the pull, A is, unless the spring ``spins``.
        Of a straight pull no moment comes of it, for that passes through both points.
        """
        turns = list(self.a.held)
        if 2 not in turns and 2 not in self.b.held and not self.spins:
            turns.append(2)
        return [0, 1, 2, *(3 + t for t in turns)]

    @property
    def held_b(self) -> list[int]:
        """Held motions of B."""
        aside = [] if self.aside is None else [0, 1]
        return [*aside, *(3 + t for t in self.b.held)]


def facing(R: Array, drawn: Array) -> tuple[Array, float]:
    """Return how an end has turned about the pull (+z) from its drawn pose.

    A level direction across the wire, which for a hook is that of its pin, moves with the node;
    its share across its drawn direction counts. It is a function of the pose alone, whatever the
    way that led there.

    Returns
    -------
    (3, 3) float
        Axes of turning: two that leave that share as it is, and the one that changes it.
    float
        The turning about the last axis that would bring the share to zero, rad.
    """
    across = np.array([-drawn[1, 0], drawn[0, 0], 0.0])
    size = math.hypot(across[0], across[1])
    across = across / size if size > 1e-6 else _level(drawn[:, 1], np.array([0.0, 0.0, 1.0]))
    side = np.array([-across[1], across[0], 0.0])
    now = R @ (drawn.T @ across)
    axis = cross(now, side)
    slope = math.sqrt(axis @ axis)
    axis /= slope
    first = cross(axis, across)
    first /= math.sqrt(first @ first)
    return np.array([cross(first, axis), first, axis]).T, -float(now @ side) / slope


def _level(v: Array, axis: Array) -> Array:
    """Return the unit share of ``v`` across a unit axis."""
    return unit(v - axis * float(axis @ v))
