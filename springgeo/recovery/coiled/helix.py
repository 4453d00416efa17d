"""The coils as a tube on a helix: eight numbers fitted to the surface by robust least squares."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from springgeo.curve.frame import Array
from springgeo.recovery.coiled.axis import frame_along

_TURN = 2 * np.pi


@dataclass(frozen=True, eq=False)
class HelixTube:
    """A tube on an endless helix.

    Attributes
    ----------
    axes, origin : (3, 3), (3,) float
        Its frame: z along the axis, the wire of azimuth 0 at height 0 (and each pitch above).
    coil_radius, pitch, wire_radius : float, mm
    hand : int
        +1 right, −1 left.
    """

    axes: Array
    origin: Array
    coil_radius: float
    pitch: float
    wire_radius: float
    hand: int

    def local(self, points: Array) -> Array:
        """Return points in the helix's frame, mirrored in y for the left hand."""
        x = (points - self.origin) @ self.axes
        if self.hand < 0:
            x[:, 1] *= -1
        return x

    def foot(self, x: Array) -> tuple[Array, Array]:
        """Return azimuths ``(n,)`` of the nearest places of the helix, and the ways from them.

        ``x`` is local. Newton's method from the coils next to each point.
        """
        theta = np.arctan2(x[:, 1], x[:, 0])
        rise = self.pitch / _TURN
        start = theta + _TURN * np.round((x[:, 2] / rise - theta) / _TURN)
        if self.pitch < self.coil_radius / 2:  # flat coils: the nearest lies at the point's azimuth
            t = self._settled(x, start)
            return t, x - self.point(t)
        best = self._settled(x, start)
        away = x - self.point(best)
        far = np.einsum("nk,nk->n", away, away)
        for step in (-_TURN, _TURN):
            other = self._settled(x, start + step)
            off = x - self.point(other)
            square = np.einsum("nk,nk->n", off, off)
            nearer = square < far
            best, far = np.where(nearer, other, best), np.where(nearer, square, far)
            away[nearer] = off[nearer]
        return best, away

    def _settled(self, x: Array, t: Array) -> Array:
        R, rise = self.coil_radius, self.pitch / _TURN
        for _ in range(4):
            c, s = np.cos(t), np.sin(t)
            first = R * (x[:, 0] * s - x[:, 1] * c) - rise * (x[:, 2] - rise * t)
            second = R * (x[:, 0] * c + x[:, 1] * s) + rise**2
            step = first / np.maximum(second, 0.2 * R * R)
            t = t - np.clip(step, -0.5, 0.5)
            if np.abs(step).max(initial=0.0) < 1e-12:
                break
        return t

    def point(self, t: Array) -> Array:
        """Return local points ``(n, 3)`` at azimuths ``(n,)``, rad."""
        return np.column_stack(
            [self.coil_radius * np.cos(t), self.coil_radius * np.sin(t), self.pitch / _TURN * t]
        )

    def off(self, points: Array) -> Array:
        """Return how far points lie outside the tube's surface, ``(n,) float, mm``."""
        _, away = self.foot(self.local(points))
        result: Array = np.linalg.norm(away, axis=1) - self.wire_radius
        return result

    def moved(self, x: Array) -> HelixTube:
        """Return the tube changed by two tilts (rad), three shifts, and R, pitch, r (mm)."""
        tilt = frame_like(self.axes, self.axes @ np.array([x[0], x[1], 1.0]))
        return replace(
            self,
            axes=tilt,
            origin=self.origin + self.axes @ x[2:5],
            coil_radius=self.coil_radius + x[5],
            pitch=self.pitch + x[6],
            wire_radius=self.wire_radius + x[7],
        )

    def slopes(self, x: Array, t: Array, away: Array) -> Array:
        """Return how ``off`` changes with each number of `moved`, ``(n, 8) float``.

        The foot may be held where it is: the distance is least there.
        """
        n = away / np.maximum(np.linalg.norm(away, axis=1), 1e-12)[:, None]
        mirror = float(self.hand)
        c, s = np.cos(t), np.sin(t)
        out = np.empty((len(x), 8))
        # tilting the frame moves what is fixed in it: x along +z·tilt, z along −x·tilt
        out[:, 0] = -n[:, 0] * x[:, 2] + n[:, 2] * x[:, 0]
        out[:, 1] = mirror * (-n[:, 1] * x[:, 2] + n[:, 2] * x[:, 1])
        out[:, 2], out[:, 3], out[:, 4] = -n[:, 0], -mirror * n[:, 1], -n[:, 2]
        out[:, 5] = -(n[:, 0] * c + n[:, 1] * s)
        out[:, 6] = -n[:, 2] * t / _TURN
        out[:, 7] = -1.0
        return out


def frame_like(frame: Array, direction: Array) -> Array:
    """Return the frame nearest to ``frame`` whose last column is along ``direction``."""
    w = direction / np.linalg.norm(direction)
    first = frame[:, 0] - w * (frame[:, 0] @ w)
    if np.linalg.norm(first) < 1e-6:
        return frame_along(w)
    first = first / np.linalg.norm(first)
    return np.column_stack([first, np.cross(w, first), w])


def scale_of(off: Array, least: float) -> float:
    """Return the robust standard deviation of distances from a surface, mm."""
    return max(1.4826 * float(np.median(np.abs(off))), least)


def fitted(tube: HelixTube, points: Array, rounds: int = 20, floor: float = 1e-5) -> HelixTube:
    """Return the tube that fits the points near it best.

    Gauss–Newton steps with Cauchy's weights, whose scale follows the residuals down;
    ``floor`` is its least, in wire radii.
    """
    for i in range(rounds):
        x = tube.local(points)
        t, away = tube.foot(x)
        off = np.linalg.norm(away, axis=1) - tube.wire_radius
        near = np.abs(off) < 0.8 * tube.wire_radius
        if near.sum() < 20:
            return tube
        scale = scale_of(off[near], floor * tube.wire_radius)
        weight = 1 / (1 + (off / (2 * scale)) ** 2) * near
        slopes = tube.slopes(x, t, away)
        size = np.array([1 / max(np.ptp(x[:, 2]), tube.coil_radius)] * 2 + [1.0] * 6)
        A = slopes * size
        normal = A.T @ (A * weight[:, None])
        damp = 1e-9 if i > 3 else 1e-3
        normal += damp * np.diag(np.diag(normal)) + 1e-12 * np.trace(normal) * np.eye(8)
        step = size * -np.linalg.solve(normal, A.T @ (weight * off))
        # a step moves nothing by more than a share of the wire
        reach = float(np.abs(slopes @ step).max()) / (0.5 * tube.wire_radius)
        tube = tube.moved(step / max(1.0, reach))
        if not (tube.wire_radius > 0 and tube.pitch > 0 and tube.coil_radius > tube.wire_radius):
            return replace(tube, wire_radius=max(tube.wire_radius, 1e-9))
        if reach < 1e-7:
            break
    return tube
