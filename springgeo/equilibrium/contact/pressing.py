"""The forces of coils that press on each other, linearised."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.curve.entries import across, skewed
from springgeo.curve.frame import Array
from springgeo.curve.motion import Index
from springgeo.equilibrium.contact.pairs import Law
from springgeo.equilibrium.contact.stand import PLACES, Stand

# forces smaller than this share of what presses on a place count for nothing
_ASLEEP = 1e-14
# the nodes of a row of places, two by two, the one further along the wire first
BLOCKS = (0, 0), (1, 1), (2, 2), (3, 3), (2, 0), (3, 1), (1, 0), (3, 2), (1, 2), (3, 0)


@dataclass(frozen=True, eq=False)
class Pressing:
    """Forces of all places linearised.

    Attributes
    ----------
    rows : (m,) int
        The rows of places that press: m of the k.
    force, slope : (PLACES, m) float, N and N/mm
        Of a whole row, over the gap.
    nodes : (4, m) int
        The nodes about each row of places (``Stand``).
    opens : (4, 6, PLACES, m) float
        Change of the gap per twist of these nodes, each in its own axes.
    on_nodes : (4, 6, m) float, N and N mm
        What the places do to these nodes, each in its own axes.
    tangent : (10, 6, 6, m) float
        Its change per twist of these nodes: that of the first of ``BLOCKS`` per twist of the
        second; that of the second per twist of the first is the same turned.
    law : Law
    trial : (PLACES, m) float, N
        Where forces are linearised.
    weight : (m,) float
        What the force of a place is worth.
    """

    rows: Index
    force: Array
    slope: Array
    nodes: Index
    opens: Array
    on_nodes: Array
    tangent: Array
    law: Law
    trial: Array
    weight: Array

    def beyond(self, twist: Array) -> Array:
        """Return what the law adds to straight forces after a motion of the nodes, ``(PLACES, m)``.

        N. The gap is linear in the motion, the force far from it.
        """
        return self.law.beyond(self.trial, self.force + self.step(twist))

    def on(self, force: Array, count: int) -> Array:
        """Return what forces ``(PLACES, m)`` do to the nodes, ``(count, 6)``, in their own axes."""
        borne = np.einsum("xipm,pm->xmi", self.opens, self.weight * force)
        out = np.zeros((count, 6))
        for nodes, each in zip(self.nodes, borne, strict=True):
            out[nodes] += each
        return out

    def step(self, twist: Array) -> Array:
        """Return the change of the forces with a motion of the nodes, ``(PLACES, m) N``."""
        change = np.einsum("xipm,xmi->pm", self.opens, twist[self.nodes])
        result: Array = self.slope * change
        return result


def pressing(stand: Stand, law: Law, trial: Array) -> Pressing:
    """Return the places' forces and their tangent at trial forces ``(k PLACES,) N``."""
    gap = stand.gap
    trial = law.awake(np.ascontiguousarray(trial.reshape(-1, PLACES).T), gap)
    rows = np.flatnonzero(trial.max(axis=0) > _ASLEEP * law.scale)
    if len(rows) < gap.shape[1]:
        stand, trial = stand.only(rows), np.take(trial, rows, axis=1)
    force, slope = law.linearised(trial, stand.gap)
    opens = stand.opens
    tangent = _turned(stand, stand.weight * trial)
    steep = opens * (stand.weight * slope)
    for block, (x, y) in zip(tangent, BLOCKS, strict=True):
        block += np.einsum("ipm,jpm->ijm", steep[x], opens[y])
    borne = np.einsum("xipm,pm->xim", opens, stand.weight * force)
    return Pressing(
        rows, force, slope, stand.nodes, opens, borne, tangent, law, trial, stand.weight
    )


def _turned(stand: Stand, trial: Array) -> Array:
    """Return what the turning of lines and tangents does to forces, as ``Pressing.tangent``.

    A gap is the line of centres times the way between them. Each node's axes have a share of the
    line, ``half``; each node's point and tangent one of the way.
    """
    weighed = trial * stand.half
    # x's share of the ways by y's of the lines, in the axes of y: ``(8, 4, 3, m)``
    both = np.einsum("xpm,yjpm->jxym", stand.ways, weighed)
    # rows: the axes of x as y sees them, ``(3, x, 3, y, m)`` with y's components first
    seen = np.einsum("xaim,yajm->jxyim", stand.axes, stand.axes)
    by_place = across(both[:, :4, :, None], seen)
    by_tangent = across(both[:, 4:, :, None], seen[:, :, :, 1:])
    out = np.zeros((len(BLOCKS), 6, 6, trial.shape[1]))
    for block, (x, y) in zip(out, BLOCKS, strict=True):
        block[:3, 3:] = by_place[:, x, y].swapaxes(0, 1)
        block[3:, :3] = by_place[:, y, x]
        # of tangent x and line y, and the other way round
        block[4, 3:] -= by_tangent[:, x, y, 1]
        block[5, 3:] += by_tangent[:, x, y, 0]
        block[3:, 4] -= by_tangent[:, y, x, 1]
        block[3:, 5] += by_tangent[:, y, x, 0]
    _add_own(out, stand, trial, weighed)
    return out


def _add_own(out: Array, stand: Stand, trial: Array, weighed: Array) -> None:
    """Add what comes of each node's own axes, in which its forces and moments are told."""
    push = np.einsum("xipm,xpm->xim", stand.own_line, trial * stand.ways[:4])
    bent = np.einsum("xipm,xpm->xim", stand.own_line, trial * stand.ways[4:])
    own = np.einsum("xipm,xjpm->xijm", stand.own_apart, weighed)
    own[:, :, 0] += bent
    trace = own[:, 0, 0] + own[:, 1, 1] + own[:, 2, 2]
    for i in range(3):
        own[:, i, i] -= trace
    out[:4, :3, 3:] += skewed(push)
    out[:4, 3:, 3:] += own
