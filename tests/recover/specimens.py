"""Random springs of every wire style, their surfaces sampled exactly, and spoiled as scans are.

The surface is sampled on the true tube, from the centreline and its frames alone; what recovers
it sees points and triangles.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from springgeo.curve import pitch_for_distance
from springgeo.curve.frame import Array
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndStyle
from springgeo.errors import SpecError
from springgeo.mesh import tube_mesh
from springgeo.mesh.tube import frames
from springgeo.specification.load import spec_of
from springgeo.spring.model import SpringModel

# ends of wire alone: a fitting hides the wire it holds
STYLES = tuple(n for n in registry.names() if registry.get(n).holds_load and n != "traced")


@dataclass(frozen=True)
class Spoil:
    """What is done to a surface; ``noise`` in wire diameters, shares of the surface.

    ``noise`` is the standard deviation of an isotropic error of every point.
    """

    noise: float = 0.0
    missing: float = 0.0
    one_side: bool = False
    clutter: float = 0.0


@dataclass(frozen=True)
class Specimen:
    """A spring, and the motion ``x -> origin + axes @ x`` that put it somewhere."""

    model: SpringModel
    axes: Array
    origin: Array
    seed: int

    @property
    def truth(self) -> dict[str, Any]:
        """What is to be recovered, mm."""
        g, m = self.model.geometry, self.model
        return {
            "wire_diameter": g.wire_diameter,
            "mean_diameter": 2 * g.coil_radius,
            "coils": g.turns,
            "hand": g.hand,
            "pitch": g.pitch,
            "styles": (m.first.style.name, m.second.style.name),
            "loop_radius": (g.first.loop_radius, g.second.loop_radius),
            "bend_radius": (g.first.bend_radius, g.second.bend_radius),
        }

    def placed(self, points: Array) -> Array:
        """Return points of the spring's frame where the specimen lies."""
        return self.origin + points @ self.axes.T


def specimen(seed: int, style: str | None = None) -> Specimen:
    """Return a spring, the same for the same seed; its first end has ``style``."""
    draw = random.Random(f"specimen {seed}")
    first = registry.get(style or STYLES[seed % len(STYLES)])
    while True:
        found = _drawn(draw, first)
        if found is not None:
            break
    rng = np.random.default_rng(seed)
    axes, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    if np.linalg.det(axes) < 0:
        axes[:, 0] *= -1
    origin = rng.normal(size=3) * 3 * found.geometry.length
    return Specimen(found, axes, origin, seed)


def _drawn(draw: random.Random, first: EndStyle) -> SpringModel | None:
    index, d = draw.uniform(5.0, 13.0), round(0.3 * 20 ** draw.random(), 3)
    radius = index * d / 2
    open_by = None if draw.random() < 0.7 else draw.uniform(1.15, 2.5)
    pitch = pitch_for_distance(radius, 1.002 * d) if open_by is None else open_by * d
    end = BodyEnd(d, radius, pitch)
    second = first if draw.random() < 0.5 else registry.get(draw.choice(STYLES))
    ends = [_end(draw, style, end) for style in (first, second)]
    body: dict[str, Any] = {
        "mean_diameter": 2 * radius,
        "coils": draw.uniform(4.0, 24.0),
        "hand": draw.choice(["right", "left"]),
    }
    if open_by is not None:
        body["pitch"] = pitch
    data: Mapping[str, Any] = {
        "wire": {"diameter": d},
        "body": body,
        "ends": {"first": ends[0], "second": ends[1]},
    }
    try:
        return SpringModel.of(spec_of(data))
    except SpecError:
        return None


def _end(draw: random.Random, style: EndStyle, end: BodyEnd) -> dict[str, Any]:
    chosen: dict[str, Any] = {"style": style.name}
    for name, (low, high) in style.ranges(end).items():
        if draw.random() > 0.2:
            chosen[name] = low + draw.random() * (high - low)
    return chosen


def cloud(of: Specimen, spoil: Spoil = Spoil(), points: int = 60_000) -> Array:
    """Return points ``(n, 3) float, mm`` on the wire's surface, evenly by area, then spoiled."""
    rng = np.random.default_rng([of.seed, 1])
    g = of.model.geometry
    r, path = g.wire_diameter / 2, g.path
    s = np.sort(rng.uniform(0, path.length, points))
    centre, e1, e2 = frames(path, s)
    phi = rng.uniform(0, 2 * np.pi, points)
    normal = np.cos(phi)[:, None] * e1 + np.sin(phi)[:, None] * e2
    bent = np.sum(path.curvature(s) * normal, axis=1) * r
    keep = rng.uniform(0, 1, points) < (1 - bent) / 2  # area of the tube over its centreline's
    x, n = (centre + r * normal)[keep], normal[keep]
    caps = max(3, round(len(x) * r / (2 * path.length)))
    for at, sign in ((0.0, -1.0), (path.length, 1.0)):
        c, a, b = frames(path, np.array([at]))
        rad, ang = r * np.sqrt(rng.uniform(0, 1, caps)), rng.uniform(0, 2 * np.pi, caps)
        disc = c + (rad * np.cos(ang))[:, None] * a + (rad * np.sin(ang))[:, None] * b
        x = np.concatenate([x, disc])
        n = np.concatenate([n, np.repeat(sign * path.tangent(np.array([at])), caps, axis=0)])
    return of.placed(spoiled(x, n, g.wire_diameter, spoil, rng))


def spoiled(x: Array, n: Array, d: float, spoil: Spoil, rng: np.random.Generator) -> Array:
    """Return points with holes or one side gone, moved by noise, with others strewn between."""
    x = x[kept(x, n, d, spoil, rng)]
    x = x + rng.normal(size=x.shape) * spoil.noise * d
    strewn = round(spoil.clutter * len(x))
    low, high = x.min(axis=0) - d, x.max(axis=0) + d
    return np.concatenate([x, rng.uniform(low, high, (strewn, 3))])


def kept(
    x: Array, n: Array, d: float, spoil: Spoil, rng: np.random.Generator
) -> np.ndarray[Any, np.dtype[np.bool_]]:
    """Return which points a scan with holes, or from one side, has seen."""
    seen = np.ones(len(x), dtype=bool)
    if not spoil.missing:
        return seen
    if spoil.one_side:
        view = rng.normal(size=3)
        view[2] *= 0.5  # mostly from beside the axis
        facing = n @ (view / np.linalg.norm(view))
        return np.asarray(facing > np.quantile(facing, spoil.missing))
    while 1 - seen.mean() < spoil.missing:
        middle, size = x[rng.integers(len(x))], rng.uniform(0.7, 2.0) * d
        seen &= np.linalg.norm(x - middle, axis=1) > size
    return seen


def mesh(of: Specimen, chord: float = 0.01) -> tuple[Array, np.ndarray[Any, np.dtype[np.int32]]]:
    """Return corners and triangles of the specimen; ``chord`` in wire diameters."""
    g = of.model.geometry
    m = tube_mesh(g.path, g.wire_diameter / 2, chord * g.wire_diameter)
    return of.placed(m.vertices), m.faces
