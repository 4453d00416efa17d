"""From the surface of a part back to its spring: coils, ends, specification."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from os import PathLike
from pathlib import Path

import numpy as np

from springgeo.curve.frame import FLIP, Array
from springgeo.errors import SpecError
from springgeo.files.surface import Surface, read_surface
from springgeo.findings import error
from springgeo.recovery.coiled.body import Body, believed, fitted_body
from springgeo.recovery.coiled.coils import LEAST, find_coils
from springgeo.recovery.coiled.helix import HelixTube
from springgeo.recovery.end.points import alone, end_points
from springgeo.recovery.ends import EndFound, find_end, polished
from springgeo.recovery.result import Recovered
from springgeo.recovery.shape import Shape
from springgeo.recovery.specification import recovered
from springgeo.recovery.units import Unit, unit_of
from springgeo.text.characters import shown

# points over the whole surface, of each stage: what is more tells nothing new
SPREAD, EXACT, ENDS, POLISHED = 60_000, 300_000, 20_000, 16_000
_SEED = 0
# least extent over the greatest, below which points are no solid's
_FLAT = 1e-4

Told = Callable[[str], None]


def recover(
    path: str | PathLike[str],
    *,
    readings: str | PathLike[str] | None = None,
    bench: str | PathLike[str] | None = None,
    file_unit: str | None = None,
    told: Told = lambda _text: None,
) -> Recovered:
    """Return the spring whose surface a file holds.

    Parameters
    ----------
    path : path
        Mesh (STL, OBJ, PLY, 3MF, GLB), point cloud (PLY, XYZ, CSV) or solid (STEP).
    readings : path, optional
        Loads at lengths, as `springgeo.measure` reads them; rate, tension and material then come
        from them, and what they do not say of the shape from the part.
    bench : path, optional
        The CSV of a test-bench run, beside ``readings``.
    file_unit : "mm", "cm", "m" or "in", optional
        Of the coordinates; what the format says, or a guess, where left out.
    told : callable, optional
        Gets a few words at each step.

    Raises
    ------
    FileError
        The file cannot be read.
    SpecError
        Nothing in it is coiled as a spring.
    """
    told("reading")
    surface = read_surface(path)
    name = Path(path).stem
    shape = shape_of_surface(surface, name, file_unit, told)
    told("specification")
    found = recovered(shape, surface, name)
    if readings is None:
        return found
    from springgeo.recovery.bench import with_readings

    told("readings")
    return with_readings(found, readings, bench)


def shape_of_surface(
    surface: Surface, name: str, file_unit: str | None, told: Told = lambda _text: None
) -> Shape:
    """Return coils and ends of the part; raises SpecError where nothing is coiled."""
    rng = np.random.default_rng(_SEED)
    told("coils")
    unit, points, exact, body = _found(surface, name, file_unit, rng)
    rough = _scatter(body, points[:ENDS])
    ends = []
    for second in (False, True):
        told("second end" if second else "first end")
        near = end_points(body, points[:ENDS], second, noise=rough)
        ends.append(find_end(near, np.random.default_rng(_SEED + second)))
    told("fitting")
    for rounds in (6, 8):
        low = body.low - ends[0].candidate.delta
        high = body.high + ends[1].candidate.delta
        body = _again(body, low, high, exact)
        ends = [
            _again_end(body, end, exact, points, second, rounds, rng, surface.faces is None)
            for second, end in enumerate(ends)
        ]
    low, high = (
        body.low - ends[0].candidate.delta,
        body.high + ends[1].candidate.delta,
    )
    ends = [
        replace(e, best=replace(e.best, candidate=replace(e.candidate, delta=0.0)), data=replace(
            e.data, x=e.data.turned(e.candidate.delta)
        ))
        for e in ends
    ]  # fmt: skip
    return Shape(replace(body, low=low, high=high), (ends[0], ends[1]), points, exact, unit)


def _found(
    surface: Surface, name: str, file_unit: str | None, rng: np.random.Generator
) -> tuple[Unit, Array, Array, Body]:
    """Return the unit, points all over and exact ones, mm, and the coils that they lie on.

    What was taken for coils at first sight and is none is looked for again, further about, and
    then from other choices of the points: about long hooks lie great tubes that are no coils.
    """
    spread = surface.spread(SPREAD, _SEED)
    for go in range(3):
        for found in _coils(spread, name, go):
            unit = unit_of(2 * found.wire_radius, surface.unit, file_unit)
            points, tube = spread * unit.factor, _scaled(found, unit.factor)
            exact = surface.points * unit.factor
            exact = exact[rng.permutation(len(exact))[:EXACT]]
            body = fitted_body(tube, exact[rng.permutation(len(exact))[:12_000]])
            if not np.isfinite(body.errors).all() or body.turns < 1.0:
                body = fitted_body(tube, points[:12_000])
            if believed(body, points):
                return unit, points, exact, body
    raise _not_coiled(name)


def _coils(points: Array, name: str, go: int) -> list[HelixTube]:
    """Return likely tubes of the coils, best first: one alone at the first ``go``.

    They are of points made one in size, whatever their unit is.
    """
    middle = points.mean(axis=0)
    apart = points - middle
    sizes = np.linalg.svd(apart, compute_uv=False) / np.sqrt(len(points))
    # all in a plane, on a line, or in one place
    if not sizes[-1] > _FLAT * sizes[0]:
        raise _not_coiled(name)
    found = find_coils(apart / sizes[0], go)
    tubes = [_scaled(tube, float(sizes[0])) for tube, score in found if score >= LEAST]
    if not tubes:
        raise _not_coiled(name)
    upright = [_upright(replace(t, origin=t.origin + middle)) for t in tubes]
    return upright if go else upright[:1]


def _not_coiled(name: str) -> SpecError:
    text = "nothing in it is coiled as an extension spring is: no tube on a helix of two turns"
    return SpecError(error("no-coils", shown(name), text))


def _scatter(body: Body, points: Array) -> float:
    """Return how far points lie off the coils, mm: triangles cut across where corners do not."""
    tube = body.tube
    t, away = tube.foot(tube.local(points))
    off = np.abs(np.linalg.norm(away, axis=1) - tube.wire_radius)
    own = (t > body.low + 0.5) & (t < body.high - 0.5) & (off < 0.6 * tube.wire_radius)
    if own.sum() < 50:
        return body.noise
    return max(body.noise, float(np.quantile(off[own], 0.68)))


def _again(body: Body, low: float, high: float, exact: Array) -> Body:
    """Return the body fitted between its ends as they are now known."""
    if not high - low > 2 * np.pi:
        return body
    rng = np.random.default_rng(_SEED + 7)
    some = exact[rng.permutation(len(exact))[:40_000]]
    again = fitted_body(body.tube, some, (low + 0.1, high - 0.1))
    if not np.isfinite(again.errors).all():
        return replace(body, low=low, high=high)
    return replace(again, low=low, high=high)


def _again_end(
    body: Body,
    found: EndFound,
    exact: Array,
    points: Array,
    second: int,
    rounds: int,
    rng: np.random.Generator,
    cloud: bool,
) -> EndFound:
    near = end_points(body, exact, bool(second), together=False)
    if len(near.x) < 300:
        near = end_points(body, points, bool(second), noise=_scatter(body, points[:ENDS]))
    start = replace(found.best, candidate=replace(found.candidate, delta=0.0))
    some = near.some(POLISHED, rng)
    # the corners of triangles hang together by these: along a straight leg there may be none
    return polished(replace(found, best=start), alone(some) if cloud else some, rounds)


def _upright(tube: HelixTube) -> HelixTube:
    """Return the tube with its axis toward the greatest of its components: always the same way."""
    direction = tube.axes[:, 2]
    if direction[int(np.argmax(np.abs(direction)))] > 0:
        return tube
    return replace(tube, axes=tube.axes @ FLIP)


def _scaled(tube: HelixTube, factor: float) -> HelixTube:
    return replace(
        tube,
        origin=tube.origin * factor,
        coil_radius=tube.coil_radius * factor,
        pitch=tube.pitch * factor,
        wire_radius=tube.wire_radius * factor,
    )
