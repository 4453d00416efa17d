"""One end style fitted to the points of an end: its parameters, and where the body ends."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from pydantic import ValidationError

from springgeo.curve.frame import Array, rotation_z
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndStyle
from springgeo.errors import SpecError
from springgeo.recovery.wire import EndWire, Feet, off_surface

# the loss saturates at so many scales (Tukey)
_SATURATED = 4.685
_TIP, _TIP_POINTS = 1.0, 6000
# how near to the limit of a value is near enough, in scales of the loss
_NEAR = 0.02
# so many points beyond the cut end are no accident
_FURTHER = 6


@dataclass(frozen=True, eq=False)
class EndPoints:
    """Points near an end ``(n, 3)``, in the local frame of a body end near the true one; mm."""

    x: Array
    end: BodyEnd
    noise: float

    @property
    def wire(self) -> float:
        """r, mm."""
        return self.end.wire_diameter / 2

    def turned(self, delta: float) -> Array:
        """Return the points in the frame of a body end ``delta`` rad further on."""
        x: Array = self.x @ rotation_z(delta)
        x[:, 2] -= self.end.pitch * delta / (2 * math.pi)
        return x

    def only(self, kept: Array) -> EndPoints:
        """Return those of the points that ``kept`` ``(n,) bool`` says."""
        return replace(self, x=self.x[kept])

    def some(self, most: int, rng: np.random.Generator) -> EndPoints:
        """Return at most so many of the points."""
        if len(self.x) <= most:
            return self
        return replace(self, x=self.x[np.sort(rng.permutation(len(self.x))[:most])])


@dataclass(frozen=True, eq=False)
class Candidate:
    """A style with values of some of its parameters, on a body end ``delta`` rad further on."""

    style: EndStyle
    values: Mapping[str, float]
    delta: float
    cost: float = math.inf
    bound: frozenset[str] = field(default_factory=frozenset)

    def wire(self, end: BodyEnd, fineness: float = 0.25) -> EndWire:
        """Return its wire; raises SpecError or ValidationError where it cannot be made."""
        parameters = registry.parameters(self.style, dict(self.values))
        return EndWire(self.style.shape(parameters, end), end, fineness)


def built(candidate: Candidate, end: BodyEnd, fineness: float = 0.25) -> EndWire | SpecError:
    """Return the wire of a candidate, or why it cannot be made."""
    try:
        return candidate.wire(end, fineness)
    except SpecError as exc:
        return exc
    except ValidationError:
        return SpecError([])


@dataclass(frozen=True, eq=False)
class Laid:
    """The wire of a candidate laid to the points: their feet on it, and how far off they are."""

    wire: EndWire
    feet: Feet
    off: Array
    n: Array
    foot: Array
    excess: float  # how far the wire goes beyond the last points on it; below zero, they go on; mm


def laid(c: Candidate, data: EndPoints, wire: EndWire, bias: float, closely: bool = False) -> Laid:
    """Return a candidate's wire laid to the points of an end.

    ``bias``, mm, is what errors along the surface add to a distance; ``closely``: whether points
    between two strands belong to the nearer one.
    """
    x = data.turned(c.delta)
    feet = wire.feet(x, closely)
    tangent = wire.stations[1][-1]
    r = data.wire
    off, n, capped = off_surface(feet, tangent, r, wire.length)
    off = np.where(capped, off, off - bias)
    on = np.abs(off) < max(4 * data.noise, 0.2 * r)
    last = float(np.max(feet.s[on], initial=-math.inf))
    excess = min(max(0.0, wire.length - last - 2 * data.noise), 20 * r)
    # points in line with the wire beyond its cut end: it goes on
    gone = np.einsum("nk,nk->n", feet.away, feet.away)
    radial = np.sqrt(
        np.maximum(gone - feet.beyond**2, 0.0, where=np.isfinite(feet.beyond), out=gone)
    )
    further = (feet.beyond > max(4 * data.noise, 0.1 * r)) & (feet.beyond < 3 * r)
    further &= radial < 1.25 * r + 2 * data.noise
    if further.sum() >= _FURTHER and len(wire.shape.pieces):
        excess = -float(np.quantile(feet.beyond[further], 0.9))
    return Laid(wire, feet, off, n, x - feet.away, excess)


def fit(
    start: Candidate, data: EndPoints, scale: float, rounds: int, closely: bool = False
) -> Candidate:
    """Return the candidate with values moved to where its wire's surface fits the points best.

    Levenberg–Marquardt steps on the distance from the surface, by Tukey's weights of ``scale``
    mm; a step that a style refuses is shortened in the parameter it names. ``closely`` as of
    `laid`: a point that a step gives to another strand may else make a good step a bad one.
    """
    names = ("delta", *start.values)
    bias = data.noise**2 / (2 * data.wire)
    wire = built(start, data.end)
    if isinstance(wire, SpecError):
        # at a limit of the style, which the last digits of the body have moved
        mended = _mended(start, wire, data, _NEAR * scale)
        if mended is None:
            return start
        start, wire = mended
    now, state = start, laid(start, data, wire, bias, closely)
    cost, damp = _cost(state, scale), 1e-3
    system = None
    for _ in range(rounds):
        # a step that was no good leaves it as it is
        system = system or _system(now, data, state, names, scale)
        normal, side = system
        better = None
        for candidate, wire, size in _steps(now, data, names, normal, side, damp, _NEAR * scale):
            after = laid(candidate, data, wire, bias, closely)
            new = _cost(after, scale)
            if new < cost:
                better = candidate, after, new, size
                break
        if better is None:
            damp *= 10
            if damp > 1e4:
                break
            continue
        gain = cost - better[2]
        now, state, cost, size = better
        system = None
        damp = max(damp / 5, 1e-9)
        if size < 1e-7 or gain < 1e-9 * cost:
            break
    return replace(now, cost=cost)


def _system(
    now: Candidate, data: EndPoints, state: Laid, names: tuple[str, ...], scale: float
) -> tuple[Array, Array]:
    """Return the normal matrix of a step and its right side."""
    A, tip = _slopes(now, data, state, names)
    inner = np.clip(state.off / (_SATURATED * scale), -1, 1)
    weight = (1 - inner**2) ** 2
    w = A * weight[:, None]
    normal, side = A.T @ w, w.T @ state.off
    if state.excess and state.wire.length > 0:
        heavy = _tip_weight(state) / (1 + _tip(state, scale) / 4) ** 2
        normal = normal + heavy * np.outer(tip, tip)
        side = side + heavy * tip * state.excess
    return normal, side


def _cost(state: Laid, scale: float) -> float:
    inner = np.clip(state.off / (_SATURATED * scale), -1, 1)
    rho = (1 - (1 - inner**2) ** 3) / 3
    tip = _tip(state, scale)
    return float(rho.sum()) + _tip_weight(state) * tip / (1 + tip / 4)


def _tip(state: Laid, scale: float) -> float:
    return (state.excess / (_SATURATED * scale)) ** 2


def _tip_weight(state: Laid) -> float:
    """Return what the cut end counts for, in points: wire may go on where no hole was seen into.

    Of few points less, or it alone would place the wire.
    """
    return _TIP * min(1.0, len(state.off) / _TIP_POINTS)


def _perturbed(
    now: Candidate, name: str, size: float, end: BodyEnd
) -> tuple[EndWire, float] | None:
    """Return the wire with one value changed a little, either way, and the change."""
    for change in (size, -size, size / 30, -size / 30):
        values = {**now.values, name: now.values[name] + change}
        wire = built(replace(now, values=values), end)
        if not isinstance(wire, SpecError):
            return wire, change
    return None


def _slopes(
    now: Candidate, data: EndPoints, state: Laid, names: tuple[str, ...]
) -> tuple[Array, Array]:
    """Return how each distance changes with each number, and how the cut end advances."""
    A, out = np.zeros((len(state.off), len(names))), np.zeros(len(names))
    wire, feet = state.wire, state.feet
    rise, n, foot = data.end.pitch / (2 * np.pi), state.n, state.foot
    A[:, 0] = n[:, 0] * foot[:, 1] - n[:, 1] * foot[:, 0] - n[:, 2] * rise
    tip, along = wire.stations[0][-1], wire.stations[1][-1]
    out[0] = float(along @ np.array([-tip[1], tip[0], rise]))
    for k, name in enumerate(names[1:], 1):
        found = _perturbed(now, name, 1e-4 * data.wire, data.end)
        if found is None:
            continue
        other, change = found
        gone = wire.displaced(feet, other)
        if gone is None:
            moved = off_surface(
                other.feet(data.turned(now.delta)), other.stations[1][-1], data.wire, other.length
            )[0]
            same = off_surface(feet, along, data.wire, wire.length)[0]
            A[:, k] = np.clip((moved - same) / change, -5, 5)
            out[k] = float(along @ (other.stations[0][-1] - tip)) / change
        else:
            A[:, k] = -np.einsum("nk,nk->n", state.n, gone) / change
            out[k] = float(along @ (other.end_point - tip)) / change
    return A, out


def _steps(
    now: Candidate,
    data: EndPoints,
    names: tuple[str, ...],
    normal: Array,
    side: Array,
    damp: float,
    near: float,
) -> Iterator[tuple[Candidate, EndWire, float]]:
    """Yield candidates one step on, each with its wire and the step's size in wire radii.

    Where a style refuses a value, first with that value moved to the nearest it takes, to within
    ``near`` mm, then with it held and the others stepped without it.
    """
    free = np.diag(normal) > 1e-12 * max(float(np.trace(normal)), 1e-300)
    limit = np.array([0.6, *[2.5 * data.wire] * (len(names) - 1)])
    for _ in range(len(names)):
        if not free.any():
            return
        N = normal[np.ix_(free, free)]
        N = N + np.diag((damp + 1e-9) * np.diag(N))
        step = np.zeros(len(names))
        step[free] = np.linalg.solve(N, -side[free])
        step /= max(1.0, float(np.max(np.abs(step) / limit)))
        values = {n: now.values[n] + float(d) for n, d in zip(names[1:], step[1:], strict=True)}
        moved = replace(now, values=values, delta=now.delta + float(step[0]))
        size = float((np.abs(step) / np.array([1.0, *[data.wire] * (len(names) - 1)])).max())
        wire = built(moved, data.end)
        if not isinstance(wire, SpecError):
            yield moved, wire, size
            return
        mended = _mended(moved, wire, data, near)
        if mended is not None:
            yield *mended, size
        named = [names.index(f.field) for f in wire.findings if f.field in values]
        held = [k for k in named if free[k]]
        if not held:
            return
        free[held] = False


def _mended(
    c: Candidate, refusal: SpecError, data: EndPoints, near: float
) -> tuple[Candidate, EndWire] | None:
    """Return a refused candidate with the values it was refused for at the nearest it takes."""
    for _ in range(3):
        name = next((f.field for f in refusal.findings if f.field in c.values), None)
        if name is None:
            return None
        found = _nearest(c, name, data, near)
        if not isinstance(found, SpecError):
            return found
        refusal = found
    return None


def _nearest(
    c: Candidate, name: str, data: EndPoints, near: float
) -> tuple[Candidate, EndWire] | SpecError:
    def at(shift: float) -> tuple[Candidate, EndWire | SpecError]:
        moved = replace(c, values={**c.values, name: c.values[name] + shift})
        return moved, built(moved, data.end)

    refusal = SpecError([])
    reach = 0.005 * data.wire
    while reach < 6 * data.wire:
        for sign in (1.0, -1.0):
            moved, wire = at(sign * reach)
            if isinstance(wire, SpecError):
                refusal = wire
                continue
            low, high = (0.0 if reach < 0.006 * data.wire else reach / 3), reach
            best = moved, wire
            for _ in range(14):
                if high - low < near:
                    break
                middle = (low + high) / 2
                moved, wire = at(sign * middle)
                if isinstance(wire, SpecError):
                    low = middle
                else:
                    high, best = middle, (moved, wire)
            return best
        reach *= 3
    return refusal


def errors(candidate: Candidate, data: EndPoints) -> dict[str, float]:
    """Return standard errors of ``delta`` (rad) and the values (mm), by the points' scatter."""
    names = ("delta", *candidate.values)
    wire = built(candidate, data.end)
    if isinstance(wire, SpecError):
        return dict.fromkeys(names, math.inf)
    state = laid(candidate, data, wire, data.noise**2 / (2 * data.wire))
    near = np.abs(state.off) < max(4.5 * data.noise, 0.05 * data.wire)
    A = _slopes(candidate, data, state, names)[0][near]
    scale = max(data.noise, float(np.std(state.off[near])) if near.any() else 0.0)
    size = np.maximum(np.linalg.norm(A, axis=0), 1e-9)
    inverse = np.linalg.pinv((A / size).T @ (A / size), rcond=1e-10)
    found = scale * np.sqrt(np.maximum(np.diag(inverse), 0.0)) / size
    return dict(zip(names, found.tolist(), strict=True))
