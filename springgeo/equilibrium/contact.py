"""Coils in contact: pairs of points one turn apart that press on each other and never pull."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.curve.motion import apply, cross, skew, transposed

Index = npt.NDArray[np.intp]
# the least share of itself, and of the pressing force as drawn, that a step leaves of a force
_FALL, _LEAST = 0.01, 1e-20
_AWAKE = 0.1
# centres further apart than this many times where they touch are not in contact
_FAR = 2.0


@dataclass(frozen=True, eq=False)
class Law:
    """Force over gap ``f = f₀ e^(−g/ℓ)``: ``f₀`` where coils touch, and never a pull.

    The force is an unknown of its own beside the poses, held to ``ln(f/f₀) + g/ℓ = 0``: in this
    form the law is straight, and there is no switch that an iteration could toggle.
    """

    scale: float
    width: float

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
        return np.where(gap < 0.0, np.maximum(force, _AWAKE * self.scale), force)

    def stepped(self, force: Array, aim: Array) -> Array:
        """Return the next trial force on the way to ``aim``: above zero, whatever the aim."""
        result: Array = np.maximum(np.maximum(aim, _FALL * force), _LEAST * self.scale)
        return result


@dataclass(frozen=True, eq=False)
class Pairs:
    """Which nodes press on which: ``low[k]`` on ``high[k]``.

    The gap is measured along the drawn line of centres, carried along by both nodes' axes (their
    mean): coils that slide or roll a little stay in touch, to first order as round wires do. It
    is never more than the true distance of the centres less that where they touch.

    Attributes
    ----------
    low, high : (k,) int
    distance : (k,) float, mm
        Of the centres where the coils touch.
    low_line, high_line : (k, 3) float
        The line of centres in the axes of either node.
    share : float
        Of the pressing force, that each pair carries: one over the pairs to a turn.
    """

    low: Index = field(default_factory=lambda: np.zeros(0, dtype=np.intp))
    high: Index = field(default_factory=lambda: np.zeros(0, dtype=np.intp))
    distance: Array = field(default_factory=lambda: np.zeros(0))
    low_line: Array = field(default_factory=lambda: np.zeros((0, 3)))
    high_line: Array = field(default_factory=lambda: np.zeros((0, 3)))
    share: float = 0.0

    def __len__(self) -> int:
        return len(self.low)

    @property
    def stride(self) -> int:
        """Nodes to a turn."""
        return int(self.high[0] - self.low[0]) if len(self) else 0

    @classmethod
    def of(cls, nodes: Index, stride: int, R: Array, p: Array, touching: float | None) -> Pairs:
        """Return the pairs of consecutive ``nodes``, ``stride`` to a turn, at drawn poses.

        ``touching`` is the distance of the centres where coils touch, mm; None if as drawn.
        """
        low, high = nodes[:-stride], nodes[stride:]
        apart = p[high] - p[low]
        size = np.sqrt(np.sum(apart * apart, axis=1))
        line = apart / size[:, None]
        own = [apply(transposed(R[at]), line) for at in (low, high)]
        touch = size if touching is None else np.minimum(size, touching)
        return cls(low, high, touch, own[0], own[1], 1.0 / stride)

    def lines(self, R: Array) -> tuple[Array, Array, Array]:
        """Return the line of centres by the lower node, the upper, and their mean, in space."""
        low, high = apply(R[self.low], self.low_line), apply(R[self.high], self.high_line)
        return low, high, (low + high) / 2

    def gaps(self, R: Array, p: Array) -> Array:
        """Return the gaps of the pairs, ``(k,) mm``."""
        return self.open_along(self.lines(R)[2], p[self.high] - p[self.low])

    def open_along(self, along: Array, apart: Array) -> Array:
        """Return the gaps, ``(k,) mm``, of centres ``apart`` with lines of centres ``along``.

        Far from each other the line no longer says where the coils would touch: a wire that has
        turned away from it stands beside its neighbour, not in it.
        """
        true = np.sqrt(np.sum(apart * apart, axis=1))
        gap: Array = np.sum(along * apart, axis=1)
        return np.where(true > _FAR * self.distance, true, gap) - self.distance

    def on_nodes(self, force: Array, R: Array, p: Array) -> Array:
        """Return what pair forces ``(k,) N`` do to the nodes, ``(n + 1, 6)``, in space.

        Moments are about the origin.
        """
        nodes = np.zeros((len(R), 6))
        if len(self):
            low, high, along = self.lines(R)
            apart, f = p[self.high] - p[self.low], force[:, None]
            push = f * along
            nodes[self.high, :3] += push
            nodes[self.low, :3] -= push
            nodes[self.high, 3:] += cross(p[self.high], push) + f / 2 * cross(high, apart)
            nodes[self.low, 3:] += f / 2 * cross(low, apart) - cross(p[self.low], push)
        return nodes

    def wrench(self, force: Array, R: Array, p: Array) -> Array:
        """Return the wire's wrench at the far end of each cell, ``(n, 6)``, in the node's axes.

        What pair forces ``(k,) N`` alone call for: the sum of them all beyond the section.
        """
        nodes = self.on_nodes(force, R, p)
        beyond = np.cumsum(nodes[::-1], axis=0)[::-1][1:]
        back, push = transposed(R[1:]), beyond[:, :3]
        moment = beyond[:, 3:] - cross(p[1:], push)
        return np.concatenate([apply(back, push), apply(back, moment)], axis=1)


@dataclass(frozen=True, eq=False)
class Pressing:
    """Forces of pairs linearised.

    Attributes
    ----------
    force, slope : (k,) float, N and N/mm
        Over the gap.
    low, high : (k, 6) float
        Change of the gap per twist of the node.
    low_low, low_high, high_low, high_high : (k, 6, 6) float
        Change of the wrench on the first node per twist of the second, each in its own axes.
    """

    force: Array
    slope: Array
    low: Array
    high: Array
    low_low: Array
    low_high: Array
    high_low: Array
    high_high: Array


def pressing(pairs: Pairs, law: Law, trial: Array, R: Array, p: Array) -> Pressing:
    """Return the pairs' forces and their tangent at the poses of all nodes and trial forces."""
    _, _, along = pairs.lines(R)
    apart = p[pairs.high] - p[pairs.low]
    gap = pairs.open_along(along, apart)
    trial = law.awake(trial, gap)
    force, slope = law.linearised(trial, gap)
    low, high = transposed(R[pairs.low]), transposed(R[pairs.high])
    n, m = pairs.low_line, pairs.high_line
    by_low = np.concatenate([-apply(low, along), cross(n, apply(low, apart)) / 2], axis=1)
    by_high = np.concatenate([apply(high, along), cross(m, apply(high, apart)) / 2], axis=1)
    stiff, half = slope[:, None, None], trial[:, None, None] / 2
    low_low = stiff * by_low[:, :, None] * by_low[:, None, :]
    low_high = stiff * by_low[:, :, None] * by_high[:, None, :]
    high_low = stiff * by_high[:, :, None] * by_low[:, None, :]
    high_high = stiff * by_high[:, :, None] * by_high[:, None, :]
    # and the turning of both lines with their nodes
    across, n_, m_ = low @ transposed(high), skew(n), skew(m)
    low_low[:, :3, 3:] -= half * skew(apply(across, m))
    low_high[:, :3, 3:] += half * across @ m_
    low_low[:, 3:, :3] -= half * n_
    low_low[:, 3:, 3:] += half * n_ @ skew(apply(low, apart))
    low_high[:, 3:, :3] += half * n_ @ across
    across = transposed(across)
    high_low[:, :3, 3:] -= half * across @ n_
    high_high[:, :3, 3:] += half * skew(apply(across, n))
    high_high[:, 3:, :3] += half * m_
    high_high[:, 3:, 3:] += half * m_ @ skew(apply(high, apart))
    high_low[:, 3:, :3] -= half * m_ @ across
    return Pressing(force, slope, by_low, by_high, low_low, low_high, high_low, high_high)
