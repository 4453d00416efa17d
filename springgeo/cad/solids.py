"""Springs and the parts of a fit as CadQuery solids."""

from __future__ import annotations

from cadquery import Shape, Solid, Vector

from springgeo.computed import ComputedSpring
from springgeo.curve.frame import Array
from springgeo.fit.obstacles import Cylinder, HolePlate, Obstacle, Union
from springgeo.state import State


def state_of(spring: ComputedSpring | State) -> State:
    """Return a state itself, or the free state of a spring."""
    return spring if isinstance(spring, State) else spring.free


def solid(spring: ComputedSpring | State) -> Solid:
    """Return the exact solid of a spring, free, or of one of its states.

    Raises
    ------
    BuildError
        Some segment bends too sharply to be followed.
    """
    return state_of(spring).solid()


def part_solid(part: Obstacle) -> Shape:
    """Return a finite obstacle of the fit as a solid.

    Raises
    ------
    ValueError
        The obstacle has no end (a bore, a half-space, an endless cylinder).
    """
    if isinstance(part, Cylinder) and part.length < float("inf"):
        return _cylinder(part.centre, part.axis, part.radius, part.length)
    if isinstance(part, HolePlate):
        return _plate(part)
    if isinstance(part, Union):
        shapes = [part_solid(p) for p in part.parts]
        return single(shapes[0].fuse(*shapes[1:]))
    raise ValueError(f"{type(part).__name__} has no end, so it is no solid; give it a length")


def bore_solid(radius: float, low: float, high: float) -> Shape:
    """Return a sleeve 20 % thicker than a bore of ``radius`` mm, from ``low`` to ``high``."""
    outer = Solid.makeCylinder(1.2 * radius, high - low, Vector(0, 0, low))
    return single(outer.cut(Solid.makeCylinder(radius, high - low, Vector(0, 0, low))))


def single(shape: Shape) -> Shape:
    """Return the one solid inside the compound that booleans make, or the shape itself."""
    inside = shape.Solids()
    return inside[0] if len(inside) == 1 else shape


def vector_of(v: Array) -> Vector:
    """Return ``(3,) float`` as a CadQuery vector."""
    return Vector(float(v[0]), float(v[1]), float(v[2]))


def _cylinder(centre: Array, axis: Array, radius: float, length: float) -> Solid:
    along = vector_of(axis).normalized()
    return Solid.makeCylinder(radius, length, vector_of(centre) - along * (length / 2), along)


def _plate(p: HolePlate) -> Shape:
    import cadquery as cq

    x, y = vector_of(p.axes[:, 0]), vector_of(p.axes[:, 1])
    plane = cq.Plane(vector_of(p.centre), xDir=y, normal=x)
    square = cq.Workplane(plane).rect(2 * p.edge, 2 * p.edge).extrude(p.thickness / 2, both=True)
    hole = _cylinder(p.centre, p.axes[:, 0], p.radius, 2 * p.thickness)
    return single(square.val().cut(hole))
