"""The coils cut by half-planes: in each the wire is a circle, and all circles have one radius.

Of coils that stand apart and were seen from one side, the near side shows the wire from outside
and the far side from inside: an axis found from all points lies a wire's radius beside the true
one, and about it a thick wire fits best. Each section alone knows nothing of the axis.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from springgeo.curve.frame import Array
from springgeo.recovery.coiled.helix import HelixTube, frame_like

_TURN = 2 * np.pi
# sectors about the axis, stretches along it; pairs of points tried in each, points looked at
_SECTORS, _STRETCHES, _PAIRS, _LOOKED_AT, _FEWEST = 12, 3, 60, 150, 25
# radii of wire tried, over the pitch, and how far off a circle a point is, over its radius
_WIRES, _OFF = np.geomspace(0.16, 0.5, 9), 0.2


def by_sections(tube: HelixTube, points: Array, rng: np.random.Generator) -> Iterator[HelixTube]:
    """Yield for each of several radii of wire the tube whose sections most points lie on.

    ``tube`` knows hand and pitch, and roughly the axis.
    """
    cut = _cut(tube, points, rng)
    if len(cut) < _SECTORS:
        return
    for wire in (_WIRES * tube.pitch).tolist():
        circles = [_circle(flat, wire, rng) for flat, _ in cut]
        share = np.array([told for told, _ in circles])
        if share.max() <= 0:
            continue
        centres = np.array([
            _there(tube, turn, centre)
            for (_, turn), (_, centre) in zip(cut, circles, strict=True)
        ])  # fmt: skip
        yield _through(replace(tube, wire_radius=wire), centres, share)


def _cut(tube: HelixTube, points: Array, rng: np.random.Generator) -> list[tuple[Array, float]]:
    """Return the points of each section, ``(n, 2)`` across and along the axis, and its azimuth.

    Along each stretch of the axis all coils are laid on one another.
    """
    x = tube.local(points)
    rho, theta = np.hypot(x[:, 0], x[:, 1]), np.arctan2(x[:, 1], x[:, 0])
    on = np.abs(rho - tube.coil_radius) < 1.6 * tube.pitch
    rho, theta, z = rho[on], theta[on], x[on, 2]
    if len(z) < _SECTORS * _FEWEST:
        return []
    sector = np.floor((theta / _TURN + 0.5) * _SECTORS).astype(np.intp) % _SECTORS
    edges = np.quantile(z, np.linspace(0.03, 0.97, _STRETCHES + 1))
    out = []
    for low, high in pairwise(edges.tolist()):
        for k in range(_SECTORS):
            mine = np.flatnonzero((sector == k) & (z >= low) & (z < high))
            if len(mine) < _FEWEST:
                continue
            mine = mine[rng.permutation(len(mine))[:_LOOKED_AT]]
            turn = ((k + 0.5) / _SECTORS - 0.5) * _TURN
            # to the height that the point has where its helix meets the middle of the sector
            height = z[mine] - tube.pitch * (theta[mine] - turn) / _TURN
            middle = (low + high) / 2
            coil = np.round((height - middle) / tube.pitch)
            out.append((np.column_stack([rho[mine], height - coil * tube.pitch]), turn))
    return out


def _circle(flat: Array, wire: float, rng: np.random.Generator) -> tuple[float, Array]:
    """Return how many points lie on the best circle of radius ``wire``, and its centre.

    Less those inside it, where none can be; a share of all. Circles through pairs of points.
    """
    a, b = flat[rng.integers(len(flat), size=(2, _PAIRS))]
    half = (b - a) / 2
    reach = wire**2 - (half**2).sum(axis=1)
    good = (reach > 0) & (reach < 0.97 * wire**2)
    if not good.any():
        return 0.0, flat.mean(axis=0)
    a, half, reach = a[good], half[good], reach[good]
    side = np.column_stack([-half[:, 1], half[:, 0]]) / np.linalg.norm(half, axis=1)[:, None]
    side *= np.sqrt(reach)[:, None]
    middle = np.concatenate([a + half + side, a + half - side])
    off = np.linalg.norm(flat[None] - middle[:, None], axis=2) / wire - 1
    told = (np.maximum(0.0, 1 - np.abs(off) / _OFF) - 0.7 * (off < -2 * _OFF)).mean(axis=1)
    k = int(np.argmax(told))
    return float(told[k]), middle[k]


def _there(tube: HelixTube, turn: float, centre: Array) -> Array:
    rho, z = centre
    y = rho * np.sin(turn) * tube.hand
    result: Array = tube.origin + tube.axes @ np.array([rho * np.cos(turn), y, z])
    return result


def _through(tube: HelixTube, centres: Array, weight: Array) -> HelixTube:
    """Return the tube with its centreline through points ``(n, 3)``, by robust least squares."""
    from scipy.optimize import least_squares

    share = np.sqrt(np.maximum(weight, 0.0) / max(float(weight.max()), 1e-9))[:, None]
    size = max(float(np.ptp(tube.local(centres)[:, 2])), tube.coil_radius)

    def placed(x: Array) -> HelixTube:
        tilt = tube.axes @ np.array([x[0] / size, x[1] / size, 1.0])
        return replace(
            tube,
            axes=frame_like(tube.axes, tilt),
            origin=tube.origin + tube.axes @ x[2:5],
            coil_radius=tube.coil_radius + float(x[5]),
            pitch=tube.pitch * float(np.exp(x[6] / size)),
        )

    def away(x: Array) -> Array:
        at = placed(x)
        _, gone = at.foot(at.local(centres))
        result: Array = (gone * share).ravel()
        return result

    def slopes(x: Array) -> Array:
        at = placed(x)
        here = at.local(centres)
        moved = _moved(at, here, at.foot(here)[0]) * share[:, :, None]
        moved[:, :, :2] /= size
        moved[:, :, 6] *= at.pitch / size
        result: Array = moved.reshape(-1, 7)
        return result

    found = least_squares(
        away, np.zeros(7), slopes, loss="soft_l1", f_scale=0.2 * tube.wire_radius, max_nfev=40
    )
    return placed(found.x)


def _moved(tube: HelixTube, x: Array, t: Array) -> Array:
    """Return how the ways from their feet to local points ``(n, 3)`` change, ``(n, 3, 7)``.

    With two tilts (rad), three shifts, R and pitch (mm). A foot goes along the helix, so that
    the way changes across it alone; the ways themselves are short.
    """
    c, s, none = np.cos(t), np.sin(t), np.zeros_like(t)
    hand = float(tube.hand)
    out = np.zeros((len(t), 3, 7))
    out[:, 0, 0], out[:, 2, 0] = -x[:, 2], x[:, 0]
    out[:, 1, 1], out[:, 2, 1] = -hand * x[:, 2], hand * x[:, 1]
    out[:, 0, 2], out[:, 1, 3], out[:, 2, 4] = -1.0, -hand, -1.0
    out[:, :, 5] = -np.column_stack([c, s, none])
    out[:, 2, 6] = -t / _TURN
    along = np.column_stack([-s * tube.coil_radius, c * tube.coil_radius, none])
    along[:, 2] = tube.pitch / _TURN
    along /= np.linalg.norm(along, axis=1)[:, None]
    out -= along[:, :, None] * np.einsum("nk,nkj->nj", along, out)[:, None]
    return out
