"""The forces of coils that press on each other, linearised."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.motion import Index, cross, skew, transposed
from springgeo.equilibrium.contact import PLACES, Law, Stand

# forces smaller than this share of what presses on a place count for nothing
_ASLEEP = 1e-14


@dataclass(frozen=True, eq=False)
class Pressing:
    """Forces of all places linearised.

    Attributes
    ----------
    rows : (m,) int
        The rows of places that press: m of the k.
    force, slope : (m, PLACES) float, N and N/mm
        Of a whole row, over the gap.
    nodes : (4, m) int
        The nodes about each row of places (``Stand``).
    opens : (m, 24, PLACES) float
        Change of the gap per twist of these nodes, each in its own axes.
    on_nodes : (m, 4, 6) float, N and N mm
        What the places do to these nodes, each in its own axes.
    tangent : (m, 4, 6, 4, 6) float
        Its change per twist of these nodes.
    turned : (m, 24, 24) float
        What the turning of lines and tangents has of that.
    """

    rows: Index
    force: Array
    slope: Array
    nodes: Index
    opens: Array
    on_nodes: Array
    tangent: Array
    turned: Array

    def step(self, twist: Array) -> Array:
        """Return the change of the forces with a motion of the nodes, ``(m, PLACES) N``."""
        moved = twist[self.nodes.T].reshape(-1, 1, 24)
        change: Array = self.slope * (moved @ self.opens)[:, 0]
        return change


def pressing(stand: Stand, law: Law, trial: Array, before: Pressing | None = None) -> Pressing:
    """Return the places' forces and their tangent at trial forces ``(k PLACES,) N``.

    The tangent is exact but for the turning of lines and tangents, which takes long and changes
    little, where that is taken from ``before``.
    """
    trial = law.awake(trial.reshape(stand.gap.shape), stand.gap)
    rows = np.flatnonzero(trial.max(axis=1) > _ASLEEP * law.scale)
    if len(rows) < len(trial):
        stand, trial = stand.only(rows), trial[rows]
    force, slope = law.linearised(trial, stand.gap)
    opens = stand.opens.reshape(-1, 24, PLACES)
    if before is not None and np.array_equal(before.rows, rows):
        turned = before.turned
    else:
        turned = _turned(stand, stand.weight * trial)
    tangent = opens * (stand.weight * slope)[:, None, :] @ transposed(opens) + turned
    borne = (opens @ (stand.weight * force)[:, :, None]).reshape(-1, 4, 6)
    shaped = tangent.reshape(-1, 4, 6, 4, 6)
    return Pressing(rows, force, slope, stand.nodes, opens, borne, shaped, turned)


def _turned(stand: Stand, trial: Array) -> Array:
    """Return what the turning of lines and tangents does to forces, ``(m, 24, 24)``.

    Of a node's force and moment in its axes, per its way and turn.
    """
    m = len(trial)
    place, steep, lever = (trial[:, None] * x for x in (stand.place, stand.steep, stand.lever))
    # y's share of the lines, weighed by what is x's of the ways: in the axes of y
    held = stand.lever[:, :, None] * stand.half
    of_all = held.transpose(0, 3, 1, 2).reshape(m, PLACES, 12)
    a, b = (place @ of_all).reshape(m, 4, 4, 3), (steep @ of_all).reshape(m, 4, 4, 3)
    # axes of y seen from x, ``(m, x, 3, y, 3)``; lines and y's tangent, ``(m, x, y, 3)``
    across = stand.axes.transpose(0, 2, 1, 3).reshape(m, 3, 12)
    seen = (transposed(across) @ across).reshape(m, 4, 3, 4, 3)
    line = np.sum(seen * b[:, :, None], axis=4).swapaxes(2, 3)
    along = seen[..., 0].swapaxes(2, 3)
    out = np.zeros((m, 4, 2, 3, 4, 2, 3))
    out[:, :, 0, :, :, 1] = -cross(seen, a[:, :, None])
    out[:, :, 1, :, :, 0] = out[:, :, 0, :, :, 1].transpose(0, 3, 4, 1, 2)
    # a × (b × v) = b (a · v) − v (a · b)
    turn = along.swapaxes(1, 2)[:, :, None]
    once = line.swapaxes(2, 3)[..., None] * turn
    both = line[..., 0] + transposed(line[..., 0])
    once += once.transpose(0, 3, 4, 1, 2)
    out[:, :, 1, :, :, 1] = both[:, :, None, :, None] * seen - once
    # and of each node's own axes
    push = (stand.own_line @ place[..., None])[..., 0]
    bent = (stand.own_line @ steep[..., None])[..., 0]
    own = (stand.own_apart * lever[:, :, None]) @ transposed(stand.half)
    own[..., 0] += bent
    trace = own[..., 0, 0] + own[..., 1, 1] + own[..., 2, 2]
    for i in range(3):
        own[..., i, i] -= trace
    spun = skew(push)
    for x in range(4):
        out[:, x, 0, :, x, 1] += spun[:, x]
        out[:, x, 1, :, x, 1] += own[:, x]
    return out.reshape(m, 24, 24)
