"""Which end style it may be: every style in many shapes, laid over the points of the end."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndStyle
from springgeo.errors import SpecError
from springgeo.recovery.end.fit import Candidate, EndPoints, built
from springgeo.recovery.wire import EndWire

_SHAPES, _LENT, _LOOKED_AT = 28, 6, 220
_UNSEEN = 0.3
# of stations: a few places of each wire are enough to lay it over points
_FINENESS = 0.5


def likely(
    data: EndPoints, rng: np.random.Generator, most: int, effort: int = 1
) -> list[Candidate]:
    """Return the candidates that lie best on the points, at most ``1 + effort`` of each style.

    ``effort`` is how many times the usual number of shapes is tried.
    """
    some = data.some(_LOOKED_AT, rng)
    azimuths, top = _lie(data)
    found: list[tuple[float, Candidate]] = []
    for style in registry.styles().values():
        if not (style.holds_load or style.has_one_shape):
            continue
        for start, wire in _shapes(style, data.end, top, rng, effort):
            if isinstance(wire, SpecError):
                continue
            deltas = list(_turns(wire, azimuths))
            turned = (Candidate(style, start.values, delta) for delta in deltas)
            found += zip(_misfits(wire, some, deltas), turned, strict=True)
    found.sort(key=lambda f: f[0])
    chosen: list[Candidate] = []
    for misfit, c in found:
        mine = [x for x in chosen if x.style.name == c.style.name]
        if len(mine) < 1 + effort and all(_differ(x, c, data) for x in mine):
            chosen.append(Candidate(c.style, c.values, c.delta, misfit))
            if len(chosen) == most:
                break
    return chosen


def _lie(data: EndPoints) -> tuple[list[float], float]:
    """Return azimuths of the plane that the end lies in, none if in no plane; and its height."""
    z = data.x[:, 2]
    top = float(np.quantile(z, 0.998))
    beyond = data.x[z > min(2.5 * data.wire, 0.5 * top)]
    if len(beyond) < 20:
        return [], top
    flat = beyond[:, :2] - beyond[:, :2].mean(axis=0)
    values, vectors = np.linalg.eigh(flat.T @ flat)
    if values[1] < 2.0 * values[0]:
        return [], top
    return [math.atan2(vectors[1, 1], vectors[0, 1])], top


def _turns(wire: EndWire, azimuths: list[float]) -> Iterator[float]:
    """Yield by how much to turn the end so that its plane is the points'.

    Coils that an end winds may have passed for the body's.
    """
    own = wire.shape.azimuth
    low, high = (-7.0, 2.2) if wire.shape.working_coils else (-2.6, 2.6)
    if own is None or not azimuths:
        yield from np.arange(low, high, math.pi / 6).tolist()
        return
    for azimuth in azimuths:
        first = (azimuth - own) % math.pi
        for k in range(-4, 3):
            for aside in (-0.15, 0.15):
                delta = first + k * math.pi + aside
                if low < delta < high:
                    yield delta


def _shapes(
    style: EndStyle, end: BodyEnd, top: float, rng: np.random.Generator, effort: int
) -> Iterator[tuple[Candidate, EndWire | SpecError]]:
    """Yield a style's own proportions, then shapes over the range it guarantees."""
    ranges = dict(style.ranges(end))

    def made(values: dict[str, float]) -> tuple[Candidate, EndWire | SpecError]:
        shape = Candidate(style, values, 0.0)
        return shape, built(shape, end, _FINENESS)

    if style.has_one_shape:
        yield made({})
        return
    if not ranges:
        return
    own = _own(style, end, ranges)
    for i in range(_SHAPES * effort):
        values = dict(own)
        for name, (low, high) in ranges.items():
            drawn = low + float(rng.random()) * (high - low)
            if name not in own or rng.random() < 0.75:
                values[name] = drawn
        if "hook_length" not in values:
            yield made(values)
            continue
        # what is seen says how long it is, but for where the body ends
        seen = top - end.wire_diameter - end.face + float(rng.normal()) * 0.3 * end.wire_diameter
        shape, wire = made({**values, "hook_length": seen})
        if isinstance(wire, SpecError):
            # as short as it goes, or the style's own
            rest = {**own, **{k: v for k, v in values.items() if i % 2 and k != "hook_length"}}
            shape, wire = made(rest)
        yield shape, wire


def lent_to(best: Candidate, data: EndPoints, rng: np.random.Generator) -> Iterator[Candidate]:
    """Yield styles with the values of ``best`` that they have too, the rest drawn.

    Coils that an end winds are found long before the hook on them is told from others.
    """
    for style in registry.styles().values():
        ranges = dict(style.ranges(data.end)) if style.holds_load else {}
        shared = {n: v for n, v in best.values.items() if n in ranges}
        if len(shared) < 2:
            continue
        for i in range(_LENT):
            drawn = {n: a + float(rng.random()) * (b - a) for n, (a, b) in ranges.items()}
            kept = {n: v for n, v in shared.items() if i == 0 or rng.random() < 0.75}
            yield Candidate(style, {**drawn, **kept}, best.delta)


def _own(style: EndStyle, end: BodyEnd, ranges: dict[str, tuple[float, float]]) -> dict[str, float]:
    """Return the values that a style takes by itself, of those it has a range for."""
    wire = built(Candidate(style, {}, 0.0), end, 1.0)
    if isinstance(wire, SpecError):
        return {}
    found = wire.shape.as_built(ranges)
    return {k: float(v) for k, v in found.items() if not isinstance(v, str)}


def _misfits(wire: EndWire, some: EndPoints, deltas: list[float]) -> list[float]:
    """Return how far points lie off the wire and how much of the wire has no points, about 0..1.

    Of each of several turns of the end; in single precision, of which nothing here needs more.
    """
    if not deltas:
        return []
    point, r = wire.stations[0].astype(np.float32), some.wire
    x = np.concatenate([some.turned(delta) for delta in deltas]).astype(np.float32)
    # |x - p|² of all at once: (x, x², 1) times (-2p, 1, p²)
    ones = np.ones((max(len(x), len(point)), 1), dtype=np.float32)
    rows = np.hstack([x, np.einsum("nk,nk->n", x, x)[:, None], ones[: len(x)]])
    columns = np.hstack(
        [-2 * point, ones[: len(point)], np.einsum("mk,mk->m", point, point)[:, None]]
    )
    square = (rows @ columns.T).reshape(len(deltas), -1, len(point))
    gone = np.sqrt(np.maximum(square.min(axis=2), 0.0))
    off = np.minimum(np.abs(gone - 1.08 * r) / r, 1.0).mean(axis=1)
    first = int(np.searchsorted(wire.stations[3], 0.0, side="right"))
    if first < len(point):
        nearest = square[:, :, first:].min(axis=1)
        off = off + _UNSEEN * (nearest > (2.5 * r) ** 2).mean(axis=1)
    return [float(m) for m in off]


def _differ(a: Candidate, b: Candidate, data: EndPoints) -> bool:
    if abs(a.delta - b.delta) > 0.5:
        return True
    return any(abs(a.values[n] - b.values[n]) > data.end.wire_diameter for n in a.values)
