"""A spline face as numbers: its control points are read once, the rest is asked of numpy.

The kernel's bindings take microseconds for each point of a surface, and its integration refines
each face anew; on the polynomials of a face Gauss's rule is exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from OCP.BRep import BRep_Tool
from OCP.BRepTools import BRepTools
from OCP.Geom import Geom_BSplineSurface
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopoDS import TopoDS_Face

from springgeo.curve.frame import Array
from springgeo.solid.spline_basis import basis

# faces that are integrated at a time
_BLOCK = 64
# how far a face may end from where its surface does, of the parameter
_WHOLE = 1e-9


class Row(NamedTuple):
    """Knots, each as often as it counts, and degree in one direction."""

    knots: tuple[float, ...]
    degree: int

    def at(self, x: Array) -> Array:
        """Return the basis at places, ``(len(x), control points) float``."""
        return _basis(self, tuple(x.tolist()))


@dataclass(frozen=True, eq=False)
class SplineFace:
    """A face that is all of a polynomial spline surface.

    ``poles`` are its control points, ``(in u, in v, 3) float, mm``; ``outward`` is 1 where the
    surface's normal leaves the solid, else -1.
    """

    poles: Array
    u: Row
    v: Row
    outward: float

    @classmethod
    def of(cls, face: TopoDS_Face) -> SplineFace | None:
        """Return a face as numbers; None where it is no such surface, or a part of one."""
        surface = BRep_Tool.Surface_s(face)
        if not isinstance(surface, Geom_BSplineSurface) or face.NbChildren() != 1:
            return None
        if surface.IsURational() or surface.IsVRational():
            return None
        ends = np.array(BRepTools.UVBounds_s(face)) - surface.Bounds()
        if np.abs(ends).max() > _WHOLE:
            return None
        if surface.IsUPeriodic() or surface.IsVPeriodic():
            # as the kernel reads a tube from a file
            surface = surface.Copy()
            surface.SetUNotPeriodic()
            surface.SetVNotPeriodic()
        pole = surface.Pole
        across, along = range(1, surface.NbUPoles() + 1), range(1, surface.NbVPoles() + 1)
        poles = np.array([[pole(i, j).Coord() for j in along] for i in across])
        back = face.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
        # knot by knot: the bindings' arrays take ten times as long
        u, v = (
            Row(
                tuple(knot(i) for i in range(1, n + 1) for _ in range(times(i))),
                degree,
            )
            for n, knot, times, degree in (
                (surface.NbUKnots(), surface.UKnot, surface.UMultiplicity, surface.UDegree()),
                (surface.NbVKnots(), surface.VKnot, surface.VMultiplicity, surface.VDegree()),
            )
        )
        return cls(poles, u, v, -1.0 if back else 1.0)

    def points(self, u: Array, v: Array) -> Array:
        """Return the surface at all pairs of parameters, ``(len(u), len(v), 3) float, mm``."""
        across, along, _ = self.poles.shape
        rows = (self.u.at(u) @ self.poles.reshape(across, -1)).reshape(-1, along, 3)
        found: Array = self.v.at(v) @ rows
        return found


def enclosed(faces: Iterable[SplineFace], about: Array) -> float:
    """Return what faces enclose with the point ``about``, ``(3,) float, mm``: mm³, signed.

    A third of the integral of (P - about) · (∂P/∂u × ∂P/∂v), the divergence theorem's.
    """
    return sum(
        outward * float(_enclosed(u, v, poles - about)) for u, v, outward, poles in _blocks(faces)
    )


def _blocks(faces: Iterable[SplineFace]) -> Iterator[tuple[Row, Row, float, Array]]:
    """Yield faces of the same rows together, their control points ``(faces, in u, in v, 3)``."""
    alike: dict[tuple[Row, Row, float], list[Array]] = {}
    for face in faces:
        alike.setdefault((face.u, face.v, face.outward), []).append(face.poles)
    for (u, v, outward), poles in alike.items():
        for start in range(0, len(poles), _BLOCK):
            yield u, v, outward, np.array(poles[start : start + _BLOCK])


def _enclosed(u: Row, v: Row, poles: Array) -> float:
    (share_u, here_u, slope_u), (share_v, here_v, slope_v) = _gauss(u), _gauss(v)
    # x, y, z first, so that every product runs through memory as it lies
    nets = np.ascontiguousarray(poles.transpose(3, 0, 1, 2))
    half, turned = here_u @ nets, slope_u @ nets
    (x, y, z), (a, b, c), (d, e, f) = half @ here_v.T, turned @ here_v.T, half @ slope_v.T
    flux = x * (b * f - c * e) + y * (c * d - a * f) + z * (a * e - b * d)
    return float(np.einsum("fij,i,j->", flux, share_u, share_v)) / 3.0


@lru_cache(maxsize=64)
def _basis(row: Row, x: tuple[float, ...]) -> Array:
    return basis(np.array(row.knots), np.array(x), row.degree)


@lru_cache(maxsize=64)
def _gauss(row: Row) -> tuple[Array, Array, Array]:
    """Return Gauss's weights, and basis and slopes of it at his points, span by span.

    As many to a span as are exact for the product of the surface and both its slopes.
    """
    knots = np.array(row.knots)
    ends = np.unique(knots[row.degree : -row.degree])
    x, w = np.polynomial.legendre.leggauss(row.degree + 1)
    half = np.diff(ends)[:, None] / 2
    at = (ends[:-1, None] + half * (1.0 + x)).ravel()
    width = knots[row.degree + 1 : -1] - knots[1 : -row.degree - 1]
    lower = basis(knots[1:-1], at, row.degree - 1) * (row.degree / width)
    slopes = np.zeros((len(at), len(knots) - row.degree - 1))
    slopes[:, 1:] += lower
    slopes[:, :-1] -= lower
    return (half * w).ravel(), row.at(at), slopes
