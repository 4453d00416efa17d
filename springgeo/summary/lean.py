"""How the body stands at the working points: its tilt and its bow, pulled straight or mounted."""

from __future__ import annotations

import math

import numpy as np

from springgeo.curve.frame import Array
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.mounted.states import Mounted
from springgeo.equilibrium.posed import Shape
from springgeo.results.loaded import Lean
from springgeo.summary.handbook import Handbook
from springgeo.summary.loaded import as_mounted, loaded

# the turn's middle is the mean of so many places
_AROUND = 48


def lean_facts(book: Handbook, place: Mounted | None) -> tuple[Lean, ...]:
    """Return tilt and bow of the body at each working point, as mounted if that is not straight."""
    if place is None:
        balance, solve = book.curve.balance, book.curve.solve
        return tuple(_lean(book, balance, solve(float(p.load)).shape) for p in loaded(book))
    states = (as_mounted(book, place, p) for p in loaded(book, place))
    return tuple(_lean(book, place.balance, at.shape) for at in states)


def _lean(book: Handbook, balance: Balance, shape: Shape) -> Lean:
    """Return tilt and bow of the body in a state: against the line between the points of pull."""
    ends, middle = balance.rod.supports, _middles(book, balance, shape)
    pull = ends.b.point(shape.R[-1], shape.p[-1]) - ends.a.point(shape.R[0], shape.p[0])
    whole = middle[-1] - middle[0]
    along = whole / np.linalg.norm(whole)
    beside = np.cross(middle - middle[0], along)
    level = abs(float(along @ pull)) / float(np.linalg.norm(pull))
    tilt = math.degrees(math.acos(min(1.0, level)))
    return Lean(load=shape.load, tilt=tilt, bow=float(np.linalg.norm(beside, axis=1).max()))


def _middles(book: Handbook, balance: Balance, shape: Shape) -> Array:
    """Return the middles of the body's turns, every half turn, ``(n, 3) mm``."""
    first, last = _body(book)
    turns = max(book.model.turns, 1.0)
    around = (last - first) / turns
    starts = np.linspace(first, last - around, max(2, int(2 * turns) - 1))
    s = starts[:, None] + around * (np.arange(_AROUND) + 0.5) / _AROUND
    # straight lines between nodes cut corners: by another share of a turn that ends between two
    found: Array = _between(s, balance.rod.drawn.s, shape.p, shape.R[:, :, 0]).mean(axis=1)
    return found


def _between(s: Array, nodes: Array, p: Array, along: Array) -> Array:
    """Return points at arc lengths ``(..., )`` by cubics through nodes ``(n, 3)`` and tangents."""
    i = np.clip(np.searchsorted(nodes, s, side="right") - 1, 0, len(nodes) - 2)
    step = nodes[i + 1] - nodes[i]
    t = ((s - nodes[i]) / step)[..., None]
    whole = np.take(p, i + 1, axis=0) - np.take(p, i, axis=0)
    first, last = (step[..., None] * np.take(along, j, axis=0) for j in (i, i + 1))
    bend: Array = t * (1 - t) * ((1 - t) * (first - whole) - t * (last - whole))
    return np.take(p, i, axis=0) + t * whole + bend


def _body(book: Handbook) -> tuple[float, float]:
    """Return the arc lengths between which the wire is the body's, mm."""
    path = book.model.geometry.path
    spans = [(s, s + p.segment.length) for p, s in path if p.role == "body"]
    return spans[0][0], spans[-1][1]
