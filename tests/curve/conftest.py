"""Every kind of segment beside a parametrisation of the same curve that owes it nothing."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.interpolate import BarycentricInterpolator, BPoly
from scipy.special import betainc

from springgeo.curve import (
    Arc,
    Blend,
    ConicalHelix,
    CylinderBend,
    Helix,
    Line,
    Path,
    Piece,
    Segment,
)
from springgeo.curve.frame import Array, rotation_z, unit, vector
from springgeo.curve.kinds.eased_coil import EasedCoil

# a rotation with nothing special about it, and a place
AXES = np.linalg.qr(np.array([[0.3, -0.5, 0.8], [0.9, 0.2, -0.1], [0.1, 0.7, 0.6]]))[0]
AXES = AXES * np.linalg.det(AXES)
PLACE = np.array([3.0, -2.0, 5.0])
MIRRORED = AXES @ np.diag([1.0, 1.0, -1.0])


@dataclass(frozen=True)
class Twin:
    """A segment and ``curve(u)``, ``0 ≤ u ≤ 1``, over a parameter that is not arc length."""

    segment: Segment
    curve: Callable[[float], Array]


def _helix() -> Twin:
    R, p, turns = 4.0, 1.3, 2.2

    def curve(u: float) -> Array:
        z = p * turns * u**2  # by height, squared
        a = 2 * math.pi * z / p
        return vector(R * math.cos(a), R * math.sin(a), z)

    return Twin(Helix(radius=R, pitch=p, turns=turns), curve)


def _arc() -> Twin:
    r, angle = 1.7, 2.9

    def curve(u: float) -> Array:
        w = math.tan(angle / 2) * u  # half-angle, rational
        return r * vector((1 - w * w) / (1 + w * w), 2 * w / (1 + w * w), 0.0)

    return Twin(Arc(radius=r, angle=angle), curve)


def _line() -> Twin:
    a, b = vector(1.0, 2.0, -1.0), vector(-2.0, 3.0, 4.0)
    return Twin(Line.between(a, b), lambda u: a + u**3 * (b - a))


def _cylinder_bend() -> Twin:
    R, r, start, end = 3.0, 1.1, 0.06, math.pi / 2

    def curve(u: float) -> Array:
        w = math.tan(start / 2) + u * (math.tan(end / 2) - math.tan(start / 2))
        sine, cosine = 2 * w / (1 + w * w), (1 - w * w) / (1 + w * w)
        x, z = r * (sine - math.sin(start)), r * (math.cos(start) - cosine)
        return vector(R * math.cos(x / R), R * math.sin(x / R), z)

    return Twin(CylinderBend(radius=R, bend_radius=r, start=start, end=end), curve)


def _cone() -> Twin:
    R, R1, p, turns = 4.0, 1.5, 1.2, 2.6

    def curve(u: float) -> Array:
        radius = R + (R1 - R) * u**2
        a = 2 * math.pi * turns * (radius - R) / (R1 - R)
        return vector(radius * math.cos(a), radius * math.sin(a), a / (2 * math.pi) * p)

    return Twin(ConicalHelix(radius=R, end_radius=R1, pitch=p, turns=turns), curve)


def _blend() -> Twin:
    start = (vector(0, 0, 0), vector(1, 0, 0), vector(0, 0.3, 0))
    end = (vector(1, 3, 2), unit(vector(-1, 0.3, 1)), vector(0.2, 0, 0.2))
    speed = 4.0
    rows = [[p, speed * t, speed**2 * k] for p, t, k in (start, end)]
    poly = BPoly.from_derivatives([0.0, 1.0], rows)
    return Twin(Blend.joining(start, end, speed), lambda u: poly(u))


def _eased_coil() -> Twin:
    R, R1, p, p1, turns, lift = 4.0, 3.1, 1.3, 1.0, 2.3, 0.4
    # the smooth step is the distribution of Beta(3, 3)
    height = [turns * (p + (p1 - p) * betainc(3, 3, v)) for v in np.linspace(0, 1, 17)]
    risen = BarycentricInterpolator(np.linspace(0, 1, 17), height)

    def curve(u: float) -> Array:
        radius, a = R + (R1 - R) * betainc(3, 3, u), 2 * math.pi * turns * u
        z = quad(risen, 0.0, u, epsabs=1e-14)[0] + lift * betainc(3, 3, u)
        return vector(radius * math.cos(a), radius * math.sin(a), z)

    coil = EasedCoil(radius=R, end_radius=R1, pitch=p, end_pitch=p1, turns=turns, lift=lift)
    return Twin(coil, curve)


TWINS = {
    "helix": _helix(),
    "arc": _arc(),
    "line": _line(),
    "cylinder bend": _cylinder_bend(),
    "conical helix": _cone(),
    "blend": _blend(),
    "eased coil": _eased_coil(),
}
CHANGES: dict[str, Callable[[Segment], Segment]] = {
    "as made": lambda x: x,
    "reversed": lambda x: x.reversed(),
    "moved": lambda x: x.moved(AXES, PLACE),
    "mirrored": lambda x: x.moved(MIRRORED, PLACE),
    "mirrored and reversed": lambda x: x.moved(MIRRORED, PLACE).reversed(),
}


@pytest.fixture(params=list(TWINS))
def twin(request: pytest.FixtureRequest) -> Twin:
    return TWINS[request.param]


@pytest.fixture(params=list(CHANGES))
def segment(twin: Twin, request: pytest.FixtureRequest) -> Segment:
    return CHANGES[request.param](twin.segment)


def derivative(f: Callable[[Array], Array], s: Array, h: float) -> Array:
    """Five-point central difference, error of order h⁴."""
    return (8 * (f(s + h) - f(s - h)) - (f(s + 2 * h) - f(s - 2 * h))) / (12 * h)


@pytest.fixture(scope="session")
def differentiate() -> Callable[[Callable[[Array], Array], Array, float], Array]:
    return derivative


def hooked(
    turns: float = 3.25,
    bend: float = 1.4,
    leg: float = 2.0,
    loop: float = 4.0,
    angle: float = 3.0,
    pitch: float = 1.05,
) -> Path:
    """A body of mean radius 4, a bend on its cylinder, a leg, and a loop toward the axis."""
    body = Helix(radius=4.0, pitch=pitch, turns=turns)
    rise = CylinderBend(radius=4.0, bend_radius=bend, start=body.lead_angle, end=math.pi / 2).moved(
        rotation_z(2 * math.pi * turns), vector(0, 0, pitch * turns)
    )
    foot = rise.point(np.array([rise.length]))[0]
    top = foot + vector(0, 0, leg)
    arc = Arc.leaving(top, vector(0, 0, 1), -foot * [1, 1, 0], loop, angle)
    return Path(
        [
            Piece(body, "body", "body"),
            Piece(rise, "bend", "bend"),
            Piece(Line.between(foot, top), "leg", "straight"),
            Piece(arc, "loop", "loop"),
        ]
    )


@pytest.fixture(scope="session")
def make_hooked() -> Callable[..., Path]:
    return hooked


@pytest.fixture(params=["as made", "reversed", "moved", "mirrored"])
def path(request: pytest.FixtureRequest) -> Path:
    made = hooked()
    return {
        "as made": made,
        "reversed": made.reversed(),
        "moved": made.moved(AXES, PLACE),
        "mirrored": made.moved(MIRRORED, PLACE),
    }[request.param]
