"""The forces of coils that press on each other, linearised."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import skew, transposed
from springgeo.equilibrium.contact import LEVER, PLACE, PLACES, STEEP, Index, Law, Pairs, Stand

# products that every row of places needs, ``(PLACES, 16)``
_LEVERED = (PLACE[:, None] * LEVER).reshape(16, PLACES).T
_STEEPED = (STEEP[:, None] * LEVER).reshape(16, PLACES).T


@dataclass(frozen=True, eq=False)
class Pressing:
    """Forces of all places linearised.

    Attributes
    ----------
    force, slope : (k, PLACES) float, N and N/mm
        Over the gap.
    nodes : (4, k) int
        The nodes about each row of places (``Stand``).
    opens : (k, PLACES, 24) float
        Change of the gap per twist of these nodes, each in its own axes.
    on_nodes : (k, 4, 6) float, N and N mm
        What the places do to these nodes, each in its own axes.
    tangent : (k, 4, 6, 4, 6) float
        Its change per twist of these nodes.
    """

    force: Array
    slope: Array
    nodes: Index
    opens: Array
    on_nodes: Array
    tangent: Array

    def step(self, twist: Array) -> Array:
        """Return the change of the forces with a motion of the nodes, ``(k, PLACES) N``."""
        moved = twist[self.nodes.T].reshape(-1, 24, 1)
        change: Array = self.slope * (self.opens @ moved)[:, :, 0]
        return change


def pressing(pairs: Pairs, law: Law, trial: Array, R: Array, p: Array) -> Pressing:
    """Return the places' forces and their tangent at the poses of all nodes and trial forces."""
    stand = Stand.of(pairs, R, p)
    trial = law.awake(trial.reshape(stand.gap.shape), stand.gap)
    force, slope = law.linearised(trial, stand.gap)
    k = len(force)
    # force and moment of each node in its own axes
    back = np.repeat(transposed(R[stand.nodes.T]), 2, axis=1)
    rows = (back @ _turned(stand, trial).reshape(k, 8, 3, 24)).reshape(k, 24, 24)
    tangent = (back @ transposed(rows).reshape(k, 8, 3, 24)).reshape(k, 24, 24)
    opens = (back[:, None] @ stand.opens().reshape(k, PLACES, 8, 3, 1)).reshape(k, PLACES, 24)
    tangent += transposed(opens) * slope[:, None, :] @ opens
    borne = (force[:, None, :] @ opens).reshape(k, 4, 6)
    return Pressing(
        force, slope, stand.nodes, opens, borne, transposed(tangent).reshape(k, 4, 6, 4, 6)
    )


def _turned(stand: Stand, trial: Array) -> Array:
    """Return what the turning of lines and tangents does to the forces, in space.

    ``(k, 4, 2, 3, 4, 2, 3)``: of a node's force and moment, per its way and turn.
    """
    k, line, along = len(trial), stand.half, stand.along
    a = (trial @ _LEVERED).reshape(k, 4, 4)
    b = stand.length * (trial @ _STEEPED).reshape(k, 4, 4)
    out = np.zeros((k, 4, 2, 3, 4, 2, 3))
    spun = skew(line)
    out[:, :, 0, :, :, 1] = -a[:, :, None, :, None] * spun.transpose(0, 2, 1, 3)[:, None]
    out[:, :, 1, :, :, 0] = transposed(a)[:, :, None, :, None] * spun[:, :, :, None]
    # a × (b × v) = b (a · v) − v (a · b)
    steep, level = b[..., None] * line[:, None], transposed(b)[..., None] * along[:, None]
    turn = steep.transpose(0, 1, 3, 2)[..., None] * along[:, :, None, None]
    turn += level.transpose(0, 1, 3, 2)[..., None] * line[:, :, None, None]
    both = np.sum(steep * along[:, :, None] + level * line[:, :, None], axis=3)
    turn -= both[:, :, None, :, None] * np.eye(3)[:, None]
    out[:, :, 1, :, :, 1] = -turn
    # and of each node's own axes
    up = trial[..., None] * stand.line
    push, bent = PLACE @ up, stand.length * (STEEP @ up)
    pushed = LEVER @ (trial[..., None] * stand.apart)
    own = bent[..., None] * along[:, :, None] + pushed[..., None] * line[:, :, None]
    own -= np.sum(bent * along + pushed * line, axis=2)[..., None, None] * np.eye(3)
    for x in range(4):
        out[:, x, 0, :, x, 1] += skew(push[:, x])
        out[:, x, 1, :, x, 1] += own[:, x]
    return out
