"""The bending table: the centreline as a list of feeds, turns and bends that any bender can read.

Each row is a stretch of wire of one radius and one twist, that is a line, an arc or a helix. The
wire is turned about itself, then fed while it is bent; in coils the bending plane also turns
evenly over the feed. Wire whose curvature varies is cut into as many rows as keep every place on
the wire within the tolerance. `replay` bends the wire again from the rows alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from springgeo.curve import Path, Piece
from springgeo.curve.frame import Array

# greatest turning of a first row, rad; how often rows are halved at the most
_FIRST, _HALVINGS = 0.5, 12
# a row that turns less, rad, is straight
_STRAIGHT = 1e-10
_GAUSS = 0.5 - math.sqrt(3) / 6, 0.5 + math.sqrt(3) / 6


@dataclass(frozen=True)
class Row:
    """One step of the bender.

    Attributes
    ----------
    label : str
        Which piece of the spring it makes.
    feed : float, mm
        Wire fed in this row.
    rotate : float, rad
        Turn of the bending plane about the wire before the feed, right-handed about the
        direction in which the wire runs.
    bend : float, rad
        Angle of the bend: feed over radius.
    radius : float or None, mm
        Of the wire's centreline; None for straight wire.
    twist : float, rad
        How far the bending plane turns about the wire, evenly, during the feed.
    """

    label: str
    feed: float
    rotate: float
    bend: float
    radius: float | None
    twist: float


@dataclass(frozen=True, eq=False)
class _Steps:
    """The rows of one piece: feed, bend and twist ``(n,)``; bending direction at both ends."""

    feed: Array
    bend: Array
    twist: Array
    first: Array
    last: Array


def bending_table(path: Path, tolerance: float = 1e-6) -> tuple[Row, ...]:
    """Return the rows that bend straight wire to a centreline.

    Parameters
    ----------
    path : Path
    tolerance : float, mm
        How far any place on the wire may come out, with one end held.
    """
    rows: list[Row] = []
    plane: Array | None = None
    share = tolerance / path.length
    for piece in path.pieces:
        steps = _steps(piece, share)
        tangent = piece.segment.tangent(np.zeros(1))[0]
        bent = bool(np.any(steps.bend > _STRAIGHT))
        turn = 0.0 if plane is None or not bent else _angle(plane, steps.first, tangent)
        columns = (x.tolist() for x in (steps.feed, steps.bend, steps.twist))
        for feed, bend, twist in zip(*columns, strict=True):
            radius = feed / bend if bend > _STRAIGHT else None
            rows.append(Row(piece.label, feed, turn, bend, radius, twist))
            turn = 0.0
        if bent:
            plane = steps.last
    return tuple(_merged(rows))


def first_plane(path: Path) -> Array:
    """Return the direction of the table's first bend, ``(3,) float``: what `replay` starts from."""
    for piece in path.pieces:
        steps = _steps(piece, math.inf)
        if np.any(steps.bend > _STRAIGHT):
            return steps.first
    return np.asarray(path.normal(np.zeros(1))[0])


def replay(rows: Iterable[Row], tangent: Array, plane: Array) -> tuple[Array, Array]:
    """Return where each row ends, ``(n, 3) float, mm``, and the wire's direction there.

    Starts at the origin along ``tangent``; ``plane`` is the direction of the first bend, across
    it. A row is the exact motion of a screw: curvature 1/radius, torsion twist/feed.
    """
    frame = np.column_stack([tangent, plane, np.cross(tangent, plane)])
    at = np.zeros(3)
    places, directions = [], []
    for row in rows:
        c, s = math.cos(row.rotate), math.sin(row.rotate)
        frame = frame @ np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])
        one = (np.array([x]) for x in (row.feed, row.bend, row.twist))
        frame, moved = _run(frame, *one)
        at = at + moved
        places.append(at)
        directions.append(frame[:, 0])
    return np.array(places), np.array(directions)


def _steps(piece: Piece, tolerance: float) -> _Steps:
    """Return a piece cut into rows, enough of them to end within ``tolerance``, rad.

    That is what a piece adds to the direction of all wire after it.
    """
    segment = piece.segment
    count = max(1, math.ceil(segment.max_curvature * segment.length / _FIRST))
    for _ in range(_HALVINGS):
        steps, off = _cut(piece, count)
        if off <= tolerance:
            break
        count *= 2
    return steps


def _cut(piece: Piece, count: int) -> tuple[_Steps, float]:
    """Return ``count`` pairs of rows, and how far they miss the piece's end.

    In the frame of tangent, bending direction and their cross product the wire turns at
    (torsion, 0, curvature) per length. Its motion over a step h by two screws, each a mean of the
    rates at the two Gauss points with the weights 1/4 ± √3/6, is right to the fourth order (the
    commutator-free Magnus method; Blanes and Moan 2006, from memory).
    """
    segment = piece.segment
    h = segment.length / count
    at = np.add.outer(h * np.arange(count), h * np.array(_GAUSS))
    rates = np.stack(_curvature_and_torsion(piece, at.ravel(), h), axis=1).reshape(count, 2, 2)
    weights = np.array([[0.25 + math.sqrt(3) / 6, 0.25 - math.sqrt(3) / 6]])
    both = np.vstack([weights, weights[:, ::-1]])
    bend, twist = np.einsum("pg,ngx->npx", both, rates).reshape(-1, 2).T * h
    feed = np.full(2 * count, h / 2)
    ends = np.array([0.0, segment.length])
    t, points = segment.tangent(ends), segment.point(ends)
    first = _bending_direction(piece, 0.0)
    frame, place = _run(np.column_stack([t[0], first, np.cross(t[0], first)]), feed, bend, twist)
    off = float(np.linalg.norm(frame[:, 0] - t[1]))
    off += float(np.linalg.norm(place - (points[1] - points[0]))) / segment.length
    return _Steps(feed, bend, twist, first, frame[:, 1]), off


def _bending_direction(piece: Piece, s: float) -> Array:
    """Return the direction toward the centre of curvature; the wire's own normal if straight."""
    at = np.array([s])
    k = piece.segment.curvature(at)[0]
    size = float(np.linalg.norm(k))
    if size * piece.segment.length <= _STRAIGHT:
        return np.asarray(piece.segment.normal(at)[0])
    return np.asarray(k / size)


def _run(frame: Array, feed: Array, bend: Array, twist: Array) -> tuple[Array, Array]:
    """Return the frame and the displacement after all rows, from a frame at their start."""
    step, turn = _screw(bend, twist)
    place = np.zeros(3)
    for f, move, rotation in zip(feed.tolist(), step, turn, strict=True):
        place = place + frame @ move * f
        frame = frame @ rotation
    return frame, place


def _curvature_and_torsion(piece: Piece, at: Array, h: float) -> tuple[Array, Array]:
    """Return curvature and torsion, 1/mm.

    The torsion is (t × k) · dk/ds over k², its derivative by differences of the sixth order.
    """
    segment = piece.segment
    e = 0.06 * h
    k, t = segment.curvature(at), segment.tangent(at)
    one, two, three = (
        segment.curvature(at + i * e) - segment.curvature(at - i * e) for i in (1, 2, 3)
    )
    change = (45 * one - 9 * two + three) / (60 * e)
    square = np.einsum("ij,ij->i", k, k)
    volume = np.einsum("ij,ij->i", np.cross(t, k), change)
    curved = square > (_STRAIGHT / h) ** 2
    torsion = np.where(curved, volume / np.where(curved, square, 1.0), 0.0)
    return np.sqrt(square), torsion


def _screw(bend: Array, twist: Array) -> tuple[Array, Array]:
    """Return step over feed ``(n, 3)`` and turn ``(n, 3, 3)`` of rows, each in its own frame.

    The frame: tangent, bending direction, their cross product. The exact exponential of a
    constant turning (twist, 0, bend), by Rodrigues.
    """
    whole = np.hypot(bend, twist)
    safe = np.where(whole > 0, whole, 1.0)
    x, z = twist / safe, bend / safe
    zero = np.zeros_like(x)
    cross = np.moveaxis(np.array([[zero, -z, zero], [z, zero, -x], [zero, x, zero]]), 2, 0)
    square = np.einsum("ijk,ikl->ijl", cross, cross)

    def mix(a: Array, b: Array) -> Array:
        mixed: Array = np.eye(3) + a[:, None, None] * cross + b[:, None, None] * square
        return mixed

    turn = mix(np.sin(whole), 2 * np.sin(whole / 2) ** 2)
    step = mix(
        2 * np.sin(whole / 2) ** 2 / safe, np.where(whole > 0, 1 - np.sin(whole) / safe, 0.0)
    )
    return step[:, :, 0], turn


def _merged(rows: Iterable[Row]) -> list[Row]:
    """Return the rows with those joined that only continue the one before."""
    out: list[Row] = []
    for row in rows:
        if out and _continues(out[-1], row):
            before = out.pop()
            row = replace(
                before,
                feed=before.feed + row.feed,
                bend=before.bend + row.bend,
                twist=before.twist + row.twist,
            )
        out.append(row)
    return out


def _continues(before: Row, row: Row) -> bool:
    if before.label != row.label or (before.radius is None) != (row.radius is None):
        return False
    if before.radius is None or row.radius is None:
        return True
    return (
        abs(row.rotate) < 1e-9
        and math.isclose(before.radius, row.radius, rel_tol=1e-9)
        and abs(before.twist / before.feed - row.twist / row.feed) * row.radius < 1e-9
    )


def _angle(a: Array, b: Array, axis: Array) -> float:
    """Return the angle from ``a`` to ``b`` about ``axis``, rad."""
    return math.atan2(float(np.cross(a, b) @ axis), float(a @ b))
