"""Volume, area, centroid and box of a shape as the kernel has it, each to a stated accuracy."""

from __future__ import annotations

import numpy as np
from OCP.Bnd import Bnd_Box
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS_Shape

from springgeo.curve.frame import Array
from springgeo.solid.torus_box import torus_box
from springgeo.solid.tube_properties import SolidProperties


def volume(shape: TopoDS_Shape, relative: float = 1e-9) -> float:
    """Return the enclosed volume, mm³.

    The kernel's default integration takes a fixed number of points per face; here each face is
    refined until it changes by less than ``relative``.
    """
    return float(_volume(shape, relative).Mass())


def properties(shape: TopoDS_Shape, relative: float = 1e-9) -> SolidProperties:
    """Return volume, area and centroid in one go."""
    found = _volume(shape, relative)
    return SolidProperties(float(found.Mass()), area(shape, relative), _point(found.CentreOfMass()))


def centroid(shape: TopoDS_Shape, relative: float = 1e-9) -> Array:
    """Return the centre of volume, ``(3,) float, mm``."""
    return _point(_volume(shape, relative).CentreOfMass())


def area(shape: TopoDS_Shape, relative: float = 1e-9) -> float:
    """Return the surface area, mm²."""
    found = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape, found, relative)
    return float(found.Mass())


def exact_box(shape: TopoDS_Shape) -> Array:
    """Return the box of the true surfaces, ``(2, 3) float, mm``: lowest, highest.

    The kernel's ordinary box encloses control points and is far too large; its exact one is right
    but for pieces of a torus.
    """
    boxes = np.array([_exact_box(face) for face in _faces(shape)])
    return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])


def _exact_box(face: TopoDS_Shape) -> Array:
    known = torus_box(face)
    if known is not None:
        return known
    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(face, box, False, False)
    box.SetGap(0.0)
    return np.array(box.Get()).reshape(2, 3)


def exact_heights(shape: TopoDS_Shape) -> tuple[float, float]:
    """Return the lowest and the highest z of the true surfaces, mm.

    Much quicker than the whole exact box: a face whose control points, which enclose it, stay
    below what is known already cannot reach further.
    """
    faces = [(face, _box(face)) for face in _faces(shape)]
    low, high = np.inf, -np.inf
    lowest = min(faces, key=lambda item: float(item[1][0, 2]))
    highest = max(faces, key=lambda item: float(item[1][1, 2]))
    for face, rough in (lowest, highest, *faces):
        if rough[0, 2] < low or rough[1, 2] > high:
            box = _exact_box(face)
            low, high = min(low, float(box[0, 2])), max(high, float(box[1, 2]))
    return low, high


def _faces(shape: TopoDS_Shape) -> list[TopoDS_Shape]:
    explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE)
    found = []
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def _volume(shape: TopoDS_Shape, relative: float) -> GProp_GProps:
    # faces are measured against a point inside, or their large contributions would cancel
    rough = _box(shape)
    found = GProp_GProps(gp_Pnt(*((rough[0] + rough[1]) / 2)))
    BRepGProp.VolumeProperties_s(shape, found, relative)
    return found


def _point(point: gp_Pnt) -> Array:
    return np.array([point.X(), point.Y(), point.Z()])


def _box(shape: TopoDS_Shape) -> Array:
    box = Bnd_Box()
    BRepBndLib.Add_s(shape, box, False)
    return np.array(box.Get()).reshape(2, 3)
