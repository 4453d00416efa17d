"""Published large deflections of wire: cantilevers and a curved one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from springgeo.curve import Arc, Frame, Line
from springgeo.equilibrium.boundary import Pull, Support
from springgeo.equilibrium.newton import Problem
from tests.equilibrium.rods import wire

VICE, LOOSE = Support("held"), Support()
X, Y, Z = np.eye(3)


def test_cantilever_rolled_to_a_circle() -> None:
    """An end moment 2π EI/L bends a straight wire to a full circle (textbook elastica)."""
    length, EI = 10.0, 5.0
    rod = wire(Line(span=length), np.array([4.0, EI, EI]), VICE, LOOSE, cells=8)
    problem = Problem(rod, Pull(np.zeros(3), Z))
    shape = problem.at_rest()
    for share in np.linspace(0.1, 1.0, 10):
        shape, _ = problem.at_load(share * 2 * math.pi * EI / length, shape)
    assert shape.p[-1] == pytest.approx(np.zeros(3), abs=1e-8)
    radius = length / (2 * math.pi)
    centre = np.array([0.0, radius, 0.0])
    assert np.linalg.norm(shape.p - centre, axis=1) == pytest.approx(radius, rel=1e-8)


@pytest.mark.parametrize("load", [0.5, 1.0, 2.0, 5.0, 10.0])
def test_cantilever_under_a_tip_load(load: float) -> None:
    """Bisshop and Drucker, Q. Appl. Math. 3 (1945) 272: tip of a cantilever at F L²/EI."""
    length, EI = 10.0, 5.0
    down, along = _bisshop_drucker(load)
    errors = []
    for cells in (2.0, 4.0):
        rod = wire(Line(span=length), np.array([4.0, EI, EI]), VICE, LOOSE, cells)
        problem = Problem(rod, Pull(-Y))
        shape, _ = problem.at_load(load * EI / length**2, problem.at_rest())
        off = np.hypot(shape.p[-1, 0] / length - along, -shape.p[-1, 1] / length - down)
        errors.append(float(off))
    assert errors[1] < 2e-5
    # fourth order in the cell's length
    assert errors[1] < errors[0] / 10


def _bisshop_drucker(load: float) -> tuple[float, float]:
    """Return tip deflection and reach over the length, from their elliptic integrals.

    With φ₀ the slope at the tip, √load = ½ ∫ dφ/√(½ (sin φ₀ − sin φ)) over 0..φ₀.
    """

    def root(tip: float, f: object) -> float:
        # φ = φ₀ − u² takes the root out of the end
        def inner(u: float) -> float:
            phi, half = tip - u * u, u * u / 2
            slope = math.cos(tip - half) * float(np.sinc(half / math.pi))
            return 2 * f(phi) / math.sqrt(slope)  # type: ignore[operator]

        return float(quad(inner, 0.0, math.sqrt(tip), epsabs=1e-13, epsrel=1e-13)[0])

    def lack(tip: float) -> float:
        return root(tip, lambda _: 1.0) / math.sqrt(2) - math.sqrt(load)

    tip = brentq(lack, 1e-6, math.pi / 2 - 1e-6, xtol=1e-14)
    scale = math.sqrt(2 * load)
    return root(tip, math.sin) / scale, root(tip, math.cos) / scale


def test_bend_of_45_degrees() -> None:
    """Bathe and Bolourchi, Int. J. Num. Meth. Eng. 14 (1979) 961, where eight straight elements put
    the tip at (22.5, 59.2, 39.5) and (15.9, 47.2, 53.4).

    Finer ones since then: Simo and Vu-Quoc 1986 (22.33, 58.84, 40.08), (15.79, 47.23, 53.37);
    Cardona and Geradin 1988 (22.14, 58.64, 40.35), (15.55, 47.04, 53.50); Crivelli and Felippa
    1993 (22.31, 58.85, 40.08), (15.75, 47.25, 53.37). Ours must lie among these three.
    Radius 100, square section of side 1, E = 1e7, ν = 0, dead loads across the plane;
    from memory. Torsion constant 1/6: the polar second moment, as usual then.
    """
    E = 1e7
    arc = Arc(
        frame=Frame(np.array([0.0, 100.0, 0.0]), np.column_stack([-Y, X, Z])),
        radius=100.0,
        angle=math.pi / 4,
    )
    assert arc.point(np.zeros(1))[0] == pytest.approx(np.zeros(3), abs=1e-12)
    stiffness = E * np.array([1 / 12, 1 / 12, 1 / 12])
    rod = wire(arc, stiffness, VICE, LOOSE)
    problem = Problem(rod, Pull(Z))
    shape, _ = problem.at_load(300.0, problem.at_rest())
    y, x, z = shape.p[-1]
    assert _among((x, y, z), (22.14, 58.64, 40.08), (22.33, 58.85, 40.35))
    shape, _ = problem.at_load(600.0, shape)
    y, x, z = shape.p[-1]
    assert _among((x, y, z), (15.55, 47.04, 53.37), (15.79, 47.25, 53.50))


def _among(place: tuple[float, ...], low: tuple[float, ...], high: tuple[float, ...]) -> bool:
    return all(a <= x <= b for a, x, b in zip(low, place, high, strict=True))
