"""How far a hook may rock on its pin before anything but the loop's seat touches.

Both angles come from stations on the wire and are true to about half a degree.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.fit.obstacles import extruded
from springgeo.fit.seat import EndFrame, Mate, pin_direction, seat_centre, seat_radius
from springgeo.specification.end_names import Side
from springgeo.specification.mating import Plate, Stud
from springgeo.spring.geometry import Geometry

Index = npt.NDArray[np.intp]
# from angles (m,) to middle and direction (m, 3) of the part in the end's frame
Pose = Callable[[Array], tuple[Array, Array]]

_COARSE = np.radians(np.arange(0.0, 91.0, 10.0))
_FINE = np.linspace(0.0, 1.0, 21)


@dataclass(frozen=True)
class Swing:
    """Angles from the seat, rad, at most 90 deg each way; None where it does not apply.

    ``in_plane``: the pin runs round the inside of the loop, toward −x and +x. ``across``: the
    pin tilts out of its seat about x.
    """

    in_plane: tuple[float, float] | None
    across: tuple[float, float] | None


def swing(geometry: Geometry, frame: EndFrame, side: Side, part: Mate) -> Swing:
    """Return how far the hook may rock on a pin or stud (a plate holds it: no swing)."""
    if isinstance(part, Plate) or seat_radius(part) > frame.inside:
        return Swing(None, None)
    modes: list[Pose] = [partial(_tilted, frame, part)]
    if abs(pin_direction(part)[1]) >= 1 - 1e-9 and not math.isinf(frame.inside):
        modes.append(partial(_rounded, frame, part))
    across, *in_plane = _limits(modes, part, _points(geometry, frame, side), frame.wire)
    return Swing(in_plane[0] if in_plane else None, across)


def _points(geometry: Geometry, frame: EndFrame, side: Side) -> Array:
    """Return points of the end and its first coil and a half in the end's frame, ``(n, 3)``."""
    path = geometry.path
    low, high = (
        (0.0, geometry.first.length)
        if side == "first"
        else (path.length - geometry.second.length, path.length)
    )
    fine = np.linspace(low, high, 100)
    coil = np.linspace(0.0, min(1.5, geometry.turns) * 2 * math.pi * geometry.coil_radius, 60)
    body = high + coil if side == "first" else low - coil
    return frame.to_local(path.point(np.concatenate([fine, body])))


def _tilted(frame: EndFrame, part: Mate, angle: Array) -> tuple[Array, Array]:
    """Return middle and direction ``(m, 3)`` of the part tilted about x by ``angle`` ``(m,)``."""
    c, s = np.cos(angle), np.sin(angle)
    x, y, z = pin_direction(part)
    axis = np.empty((len(angle), 3))
    axis[:, 0], axis[:, 1], axis[:, 2] = x, c * y - s * z, s * y + c * z
    return seat_centre(frame.wire, seat_radius(part), axis), axis


def _rounded(frame: EndFrame, part: Mate, angle: Array) -> tuple[Array, Array]:
    """Return middle and direction ``(m, 3)`` of the part run round the inside of the loop."""
    radius, across = seat_radius(part), np.array([0.0, 1.0, 0.0])
    centre = np.empty((len(angle), 3))
    centre[:] = seat_centre(frame.wire, radius, across)
    centre[:, 0] += (frame.inside - radius) * np.sin(angle)
    centre[:, 2] += (frame.inside - radius) * (1 - np.cos(angle))
    return centre, np.broadcast_to(across, centre.shape)


def _clearances(part: Mate, local: Array, centre: Array, axis: Array) -> Array:
    """Return the least distance ``(m,)`` of points ``(n, 3)`` from each of m poses of a part."""
    assert not isinstance(part, Plate)
    gap = _gap(local, centre, axis, seat_radius(part), part.length)
    if isinstance(part, Stud):
        shoulder = (part.length - part.groove_width) / 2
        for k in (-1, 1):
            middle = centre + k * (part.groove_width + shoulder) / 2 * axis
            gap = np.minimum(gap, _gap(local, middle, axis, part.diameter / 2, shoulder))
    return gap


def _gap(point: Array, centre: Array, axis: Array, radius: float, length: float) -> Array:
    """Return the least distance ``(m,)`` of points ``(n, 3)`` from each of m cylinders."""
    along = axis @ point.T
    along -= np.sum(axis * centre, axis=1)[:, None]
    out = (-2 * centre) @ point.T
    out += np.sum(point**2, axis=1)
    out += np.sum(centre**2, axis=1)[:, None]
    out -= along * along
    np.sqrt(np.maximum(out, 0.0, out=out), out=out)
    out -= radius
    np.abs(along, out=along)
    along -= length / 2
    # between the end faces of a long part the nearer surface decides
    inside = along.max() <= 0
    result: Array = (np.maximum(out, along) if inside else extruded(out, along)).min(axis=1)
    return result


def _limits(
    modes: Sequence[Pose], part: Mate, local: Array, wire: float
) -> list[tuple[float, float]]:
    """Return for each way of moving the angles to either side at which the wire is first met."""
    least = wire / 2 - 2e-3 * wire  # stations miss a little of a true contact

    def clear(angle: Array) -> Index:
        """Return how many angles ``(modes, 2, k)`` are clear in a row from the seat."""
        poses = [pose(a.ravel()) for pose, a in zip(modes, angle, strict=True)]
        centre, axis = (np.concatenate(c) for c in zip(*poses, strict=True))
        free = (_clearances(part, local, centre, axis) >= least).reshape(angle.shape)
        count: Index = np.cumprod(free, axis=2).sum(axis=2)
        return count

    both = np.array([-1.0, 1.0])[:, None]
    last = clear(np.broadcast_to(both * _COARSE, (len(modes), 2, len(_COARSE))))
    # of the coarse angles; none is clear where not even the seat is
    inside = np.minimum(np.maximum(last - 1, 0), len(_COARSE) - 2)
    fine = _COARSE[inside][..., None] + _COARSE[1] * _FINE
    count = np.maximum(clear(both * fine) - 1, 0)
    limit = np.take_along_axis(fine, count[..., None], axis=2)[..., 0]
    return [(float(low), float(high)) for low, high in limit]
