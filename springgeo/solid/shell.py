"""Sewn by construction: vertices, shared edges, faces and caps of a tube, built by hand."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from OCP.BRep import BRep_Builder
from OCP.Geom import Geom_Circle, Geom_Curve, Geom_Plane
from OCP.GeomAbs import GeomAbs_Shape
from OCP.gp import gp_Ax2, gp_Ax3, gp_Dir, gp_Pnt
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopoDS import (
    TopoDS,
    TopoDS_Edge,
    TopoDS_Face,
    TopoDS_Shape,
    TopoDS_Shell,
    TopoDS_Solid,
    TopoDS_Vertex,
    TopoDS_Wire,
)

from springgeo.curve.frame import Array
from springgeo.solid.strip import Strip
from springgeo.solid.strips import seam_angle

_TOLERANCE = 1e-7
_TURN = 2 * math.pi
_AHEAD = TopAbs_Orientation.TopAbs_FORWARD
_BACK = TopAbs_Orientation.TopAbs_REVERSED


@dataclass(frozen=True, eq=False)
class _Ring:
    """The circle between two strips: one edge, or two where the seams arrive apart.

    ``edges`` run with φ of the later strip. ``arriving`` and ``leaving`` are the vertices on
    the seams of the earlier and the later strip; ``after`` and ``before`` are, for each edge,
    what turns its own parameter into φ of the later and of the earlier strip; ``spans`` are where
    each edge begins and ends.
    """

    edges: tuple[TopoDS_Edge, ...]
    arriving: TopoDS_Vertex
    leaving: TopoDS_Vertex
    after: tuple[float, ...]
    before: tuple[float, ...]
    spans: tuple[tuple[float, float], ...]


def tube_shell_solid(strips: list[Strip], radius: float) -> TopoDS_Solid:
    """Return the closed solid of ``strips`` that follow each other, with flat ends."""
    builder = BRep_Builder()
    rings = [_ring(builder, strips[0].start, 0.0, radius)]
    for a, b in pairwise(strips):
        rings.append(_ring(builder, b.start, seam_angle(a.end, b.start), radius))
    rings.append(_ring(builder, strips[-1].end, 0.0, radius))
    faces = [_tube_face(builder, strip, rings[i], rings[i + 1]) for i, strip in enumerate(strips)]
    for i in range(1, len(faces)):
        for edge in rings[i].edges:
            builder.Continuity(edge, faces[i - 1], faces[i], GeomAbs_Shape.GeomAbs_G1)
    caps = [
        _cap(builder, strips[0].start, rings[0], start=True),
        _cap(builder, strips[-1].end, rings[-1], start=False),
    ]
    return _solid(builder, [*faces, *caps])


def _ring(builder: BRep_Builder, frame: Array, seam: float, radius: float) -> _Ring:
    centre, e1, e2 = frame
    axes = gp_Ax2(gp_Pnt(*centre), gp_Dir(*np.cross(e1, e2)), gp_Dir(*e1))
    circle = Geom_Circle(axes, radius)
    leaving = _vertex(builder, circle.Value(0.0))
    if seam == 0.0:
        edge = _edge(builder, circle, leaving, leaving, 0.0, _TURN)
        return _Ring((edge,), leaving, leaving, (0.0,), (0.0,), ((0.0, _TURN),))
    seam %= _TURN
    arriving = _vertex(builder, circle.Value(seam))
    spans = ((0.0, seam), (seam, _TURN))
    edges = (
        _edge(builder, circle, leaving, arriving, *spans[0]),
        _edge(builder, circle, arriving, leaving, *spans[1]),
    )
    return _Ring(edges, arriving, leaving, (0.0, 0.0), (_TURN - seam, -seam), spans)


def _tube_face(builder: BRep_Builder, strip: Strip, low: _Ring, high: _Ring) -> TopoDS_Face:
    face, wire = TopoDS_Face(), TopoDS_Wire()
    builder.MakeFace(face, strip.surface, _TOLERANCE)
    builder.MakeWire(wire)
    forward = strip.high > strip.low
    ends = (low.leaving, high.arriving) if forward else (high.arriving, low.leaving)
    seam = _edge(builder, strip.seam, *ends, *sorted((strip.low, strip.high)))
    left, right = strip.line(0.0), strip.line(_TURN)
    # the first curve belongs to the seam taken forward: up the right side where the surface's
    # length runs with the wire, down the left side where it runs against it
    builder.UpdateEdge(seam, *((right, left) if forward else (left, right)), face, _TOLERANCE)
    builder.Continuity(seam, face, face, GeomAbs_Shape.GeomAbs_CN)
    for edge, offset, span in zip(low.edges, low.after, low.spans, strict=True):
        builder.UpdateEdge(edge, strip.ring(strip.low, offset, span), face, _TOLERANCE)
        builder.Add(wire, edge.Oriented(_AHEAD))
    builder.Add(wire, seam.Oriented(_AHEAD if forward else _BACK))
    for edge, offset, span in zip(high.edges, high.before, high.spans, strict=True):
        builder.UpdateEdge(edge, strip.ring(strip.high, offset, span), face, _TOLERANCE)
        builder.Add(wire, edge.Oriented(_BACK))
    builder.Add(wire, seam.Oriented(_BACK if forward else _AHEAD))
    wire.Closed(True)
    builder.Add(face, wire)
    return face


def _cap(builder: BRep_Builder, frame: Array, ring: _Ring, *, start: bool) -> TopoDS_Face:
    """Return the flat end. Its plane looks along the wire; at the start the face is reversed."""
    centre, e1, e2 = frame
    face, wire = TopoDS_Face(), TopoDS_Wire()
    plane = Geom_Plane(gp_Ax3(gp_Pnt(*centre), gp_Dir(*np.cross(e1, e2)), gp_Dir(*e1)))
    builder.MakeFace(face, plane, _TOLERANCE)
    builder.MakeWire(wire)
    for edge in ring.edges:
        builder.Add(wire, edge.Oriented(_AHEAD))
    wire.Closed(True)
    builder.Add(face, wire)
    return TopoDS.Face_s(face.Oriented(_BACK if start else _AHEAD))


def _vertex(builder: BRep_Builder, point: gp_Pnt) -> TopoDS_Vertex:
    vertex = TopoDS_Vertex()
    builder.MakeVertex(vertex, point, _TOLERANCE)
    return vertex


def _edge(
    builder: BRep_Builder,
    curve: Geom_Curve,
    first: TopoDS_Vertex,
    last: TopoDS_Vertex,
    low: float,
    high: float,
) -> TopoDS_Edge:
    edge = TopoDS_Edge()
    builder.MakeEdge(edge, curve, _TOLERANCE)
    builder.Range(edge, low, high)
    builder.Add(edge, first.Oriented(_AHEAD))
    builder.Add(edge, last.Oriented(_BACK))
    return edge


def _solid(builder: BRep_Builder, faces: list[TopoDS_Shape]) -> TopoDS_Solid:
    shell, solid = TopoDS_Shell(), TopoDS_Solid()
    builder.MakeShell(shell)
    for face in faces:
        builder.Add(shell, face)
    shell.Closed(True)
    builder.MakeSolid(solid)
    builder.Add(solid, shell)
    return solid
