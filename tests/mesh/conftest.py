"""Wires to mesh, and a ruler that measures a mesh against the exact tube."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from springgeo.curve import Arc, Blend, ConicalHelix, CylinderBend, Helix, Line, Path, Piece
from springgeo.curve.frame import MIRROR, Array, rotation_z, unit, vector
from springgeo.mesh import Mesh


def coil(radius: float, pitch: float, turns: float) -> Path:
    return Path([Piece(Helix(radius=radius, pitch=pitch, turns=turns), "body", "body")])


def hooked(hand: str = "right", turns: float = 3.25) -> Path:
    """A body of mean radius 4 with a bend on its cylinder, a leg and a half loop."""
    body = Helix(radius=4.0, pitch=1.05, turns=turns)
    bend = CylinderBend(radius=4.0, bend_radius=1.4, start=body.lead_angle, end=math.pi / 2).moved(
        rotation_z(2 * math.pi * turns), vector(0, 0, 1.05 * turns)
    )
    foot = bend.point(np.array([bend.length]))[0]
    top = foot + vector(0, 0, 2.0)
    loop = Arc.leaving(top, vector(0, 0, 1), -foot * [1, 1, 0], 4.0, 3.0)
    parts = [body, bend, Line.between(foot, top), loop]
    path = Path(Piece(p, str(i), "body") for i, p in enumerate(parts))
    return path.moved(MIRROR, np.zeros(3)) if hand == "left" else path


def one(segment: Arc | Blend | ConicalHelix | CylinderBend | Line) -> Path:
    return Path([Piece(segment, "only", "bend")])


BLEND = Blend.joining(
    (vector(0, 0, 0), vector(1, 0, 0), vector(0, 0.3, 0)),
    (vector(1, 3, 2), unit(vector(-1, 0.3, 1)), vector(0.2, 0, 0.2)),
    4.0,
)
WIRES: dict[str, Path] = {
    "coil": coil(4.0, 1.05, 2.3),
    "open coil": coil(1.2, 8.0, 1.5),
    "right": hooked("right"),
    "left": hooked("left"),
    "backward": hooked("left").reversed(),
    "line": one(Line.between(vector(1, 2, 3), vector(2, 0, 7))),
    "arc": one(Arc(radius=1.0, angle=5.0)),
    "cylinder bend": one(CylinderBend(radius=2.0, bend_radius=0.7, start=0.05, end=1.57)),
    "cone": one(ConicalHelix(radius=4.0, end_radius=1.5, pitch=1.2, turns=1.5)),
    "blend": one(BLEND),
}


@pytest.fixture(params=list(WIRES))
def wire(request: pytest.FixtureRequest) -> Path:
    return WIRES[request.param]


@pytest.fixture(scope="session")
def make_coil() -> Callable[[float, float, float], Path]:
    return coil


def feet(path: Path, points: Array, step: float) -> Array:
    """Arc lengths of the points' nearest places on the wire: dense samples, then Newton."""
    samples = path.sample(step)
    s = samples.s[
        np.concatenate(
            [
                np.argmin(((block[:, None] - samples.point) ** 2).sum(axis=2), axis=1)
                for block in np.array_split(points, max(1, len(points) // 500))
            ]
        )
    ]
    for _ in range(8):
        gap = points - path.point(s)
        slope = np.sum(gap * path.tangent(s), axis=1)
        s = np.clip(s + slope / (1 - np.sum(gap * path.curvature(s), axis=1)), 0.0, path.length)
    return s


@pytest.fixture(scope="session")
def off_the_tube() -> Callable[[Path, Mesh, float], tuple[float, float]]:
    """Return how far the sides of a mesh dip below and stick out of the tube, both ≥ 0."""

    def measure(path: Path, mesh: Mesh, radius: float) -> tuple[float, float]:
        rng = np.random.default_rng(7)
        around = int(np.count_nonzero(mesh.faces == len(mesh.vertices) - 1))
        sides = mesh.faces[: -2 * around]
        picked = sides[rng.choice(len(sides), min(len(sides), 200), replace=False)]
        inside = rng.dirichlet([1, 1, 1], size=6)
        edges = [[0.5, 0.5, 0], [0, 0.5, 0.5], [0.5, 0, 0.5]]
        weights = np.vstack([inside, edges])
        points = np.einsum("kc,fcx->fkx", weights, mesh.vertices[picked]).reshape(-1, 3)
        s = feet(path, points, radius / 2)
        height = np.linalg.norm(points - path.point(s), axis=1) - radius
        return max(0.0, -float(height.min())), max(0.0, float(height.max()))

    return measure
