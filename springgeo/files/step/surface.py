"""Places on the faces of a STEP file's shape, evenly by area: exact, for no facet lies between."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepGProp import BRepGProp
from OCP.BRepTools import BRepTools
from OCP.BRepTopAdaptor import BRepTopAdaptor_FClass2d
from OCP.gp import gp_Pnt, gp_Pnt2d, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_ShapeEnum, TopAbs_State
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Face

from springgeo.curve.frame import Array
from springgeo.errors import FileError
from springgeo.files.step.read import read_step
from springgeo.files.step.session import quiet_kernel

# places in all, and the least on one face
POINTS, FEWEST = 24_000, 12


def surface_points(path: Path) -> Array:
    """Return places on the faces of a STEP file, ``(n, 3) float, mm``; raises FileError."""
    shape = read_step(path).shape
    with quiet_kernel():
        faces = []
        explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE)
        while explorer.More():
            faces.append(TopoDS.Face_s(explorer.Current()))
            explorer.Next()
        areas = [_area(face) for face in faces]
        whole = sum(areas)
        if not whole > 0:
            raise FileError(f"cannot recover {path}: it holds no faces")
        rng = np.random.default_rng(0)
        parts = [
            _on_face(face, max(FEWEST, round(POINTS * area / whole)), rng)
            for face, area in zip(faces, areas, strict=True)
        ]
    return np.concatenate(parts)


def _area(face: TopoDS_Face) -> float:
    found = GProp_GProps()
    BRepGProp.SurfaceProperties_s(face, found)
    return abs(float(found.Mass()))


def _on_face(face: TopoDS_Face, count: int, rng: np.random.Generator) -> Array:
    """Return some ``count`` places on a face, drawn by area out of those inside its edges."""
    u0, u1, v0, v1 = BRepTools.UVBounds_s(face)
    inside = BRepTopAdaptor_FClass2d(face, 1e-9)
    surface = BRepAdaptor_Surface(face)
    side = max(2, round((2 * count) ** 0.5))
    # a jittered grid in the face's own parameters, thinned by the area that a step covers
    u = (np.arange(side) + rng.random((side, side))) / side * (u1 - u0) + u0
    v = (np.arange(side) + rng.random((side, side))).T / side * (v1 - v0) + v0
    p, du, dv = gp_Pnt(), gp_Vec(), gp_Vec()
    kept, weight = [], []
    for a, b in zip(u.ravel().tolist(), v.ravel().tolist(), strict=True):
        if inside.Perform(gp_Pnt2d(a, b)) == TopAbs_State.TopAbs_OUT:
            continue
        surface.D1(a, b, p, du, dv)
        kept.append((p.X(), p.Y(), p.Z()))
        weight.append(du.CrossMagnitude(dv))
    points, share = np.array(kept, dtype=np.float64).reshape(-1, 3), np.array(weight)
    if not share.sum() > 0:
        return points
    kept_points: Array = points[rng.random(len(share)) < count * share / share.sum()]
    return kept_points
