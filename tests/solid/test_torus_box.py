"""The box of a piece of a torus against points on the piece itself."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.Geom import Geom_ToroidalSurface
from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Torus

from springgeo.solid import exact_box

turn = st.floats(0.0, 2 * np.pi)
span = st.floats(0.1, 2 * np.pi)
part = st.floats(-1.0, 1.0)


@given(turn, span, turn, span, part, part, st.booleans(), st.floats(1.05, 8.0))
@settings(max_examples=60, deadline=None)
def test_any_piece(u, wide, v, high, x, y, mirrored, ring):
    axis = np.array([x, y, 1.2])
    place = gp_Ax3(gp_Pnt(1.0, -2.0, 3.0), gp_Dir(*axis), gp_Dir(*np.cross(axis, [0.3, 1.0, 0.1])))
    if mirrored:
        place.YReverse()
    surface = Geom_ToroidalSurface(gp_Torus(place, ring, 1.0))
    face = BRepBuilderAPI_MakeFace(surface, u, u + wide, v, v + high, 1e-9).Face()
    points = np.array(
        [
            (p.X(), p.Y(), p.Z())
            for s in np.linspace(u, u + wide, 80)
            for p in (surface.Value(s, t) for t in np.linspace(v, v + high, 80))
        ]
    )
    found = exact_box(face)
    seen = np.array([points.min(axis=0), points.max(axis=0)])
    # points a step h apart miss a top of curvature 1 / R by at most R h²/8, in each direction
    miss = ((ring + 1) * (wide / 79) ** 2 + (high / 79) ** 2) / 8
    assert np.all(found[0] <= seen[0] + 1e-9)
    assert np.all(found[1] >= seen[1] - 1e-9)
    assert np.abs(found - seen).max() <= miss + 1e-9


def test_a_turn_longer_by_rounding_is_a_turn():
    place = gp_Ax3(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0), gp_Dir(1, 0, 0))
    surface = Geom_ToroidalSurface(gp_Torus(place, 4.0, 1.0))
    low, high = -2.0694557179012918e-13, 6.283185307179793
    face = BRepBuilderAPI_MakeFace(surface, 5.1, 6.2, low, high, 1e-9).Face()
    assert exact_box(face)[1, 0] == pytest.approx(5 * np.cos(6.2), abs=1e-9)
