"""The loaded wire is smooth enough to be a solid: order of its strain, solid, mesh, box."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from springgeo.curve.smooth_strain import SmoothStrain
from springgeo.curve.strained import Strained
from springgeo.mesh import tube_mesh
from springgeo.solid import tube_solid
from springgeo.solid.deviation import surface_deviation
from springgeo.solid.measure import volume
from springgeo.solid.tube_properties import tube_properties
from tests.equilibrium.rods import curve_of, spring


def test_the_strain_is_met_to_fourth_order() -> None:
    def error(n: int) -> float:
        cells = np.full(n, 2 * np.pi / n)
        gauss = np.add.outer(cells.cumsum() - cells / 2, cells[0] / np.sqrt(12) * np.array([-1, 1]))
        known = np.stack([np.sin(gauss), np.cos(gauss), np.sin(2 * gauss)], axis=2)
        strain = SmoothStrain.of(cells, known.mean(axis=1), np.diff(known, axis=1)[:, 0] / 2)
        cell, u = np.divmod(np.linspace(0.0, n - 1e-9, 1001), 1.0)
        s = (cell + u) * cells[0]
        exact = np.stack([np.sin(s), np.cos(s), np.sin(2 * s)], axis=1)
        return float(np.abs(strain.at(cell.astype(int), u) - exact).max())

    assert np.log2(error(16) / error(32)) > 3.3


@pytest.mark.parametrize("style", ["full-loop-at-side", "english-loop", "machine-half-loop"])
def test_solid_mesh_and_box_of_a_loaded_spring(style: str) -> None:
    made = spring(style, D=12.0)
    path = curve_of(made).state(load=15.0).path
    exact = tube_properties(path, 0.5)
    solid = tube_solid(path, 0.5)
    assert surface_deviation(solid, path, 0.5) < 1e-6
    assert volume(solid) == pytest.approx(exact.volume, rel=1e-6)
    mesh = tube_mesh(path, 0.5, 0.01)
    closed = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert closed.is_watertight
    assert closed.volume == pytest.approx(exact.volume, rel=0.02)


def test_curvature_is_that_of_the_drawn_curve() -> None:
    path = curve_of(spring("hook-at-side", D=10.0)).state(load=12.0).path
    for piece in path.pieces:
        wire = piece.segment
        if isinstance(wire, Strained):
            e = 1e-3
            s = np.linspace(e, wire.length - e, 301)
            turned = (wire.tangent(s + e) - wire.tangent(s - e)) / (2 * e)
            assert np.abs(turned - wire.curvature(s)).max() < 1e-6
            moved = (wire.point(s + e) - wire.point(s - e)) / (2 * e)
            assert np.abs(moved - wire.tangent(s)).max() < 1e-7


@pytest.mark.parametrize("style", ["full-loop-at-side", "english-loop", "machine-half-loop"])
def test_runs_that_answer_together_answer_as_each_by_itself(style: str) -> None:
    path = curve_of(spring(style, D=10.0)).state(load=12.0).path
    for turned in (path, path.reversed(), path.moved(np.diag([1.0, -1.0, 1.0]), np.ones(3))):
        for piece, start in turned:
            # the end of a piece is where the next one begins, which has a curvature of its own
            q = np.linspace(0.0, piece.segment.length, 101)[:-1]
            found = turned.traced(start + q, "point", "tangent", "curvature")
            for ours, own in zip(found, piece.segment.traced(q), strict=True):
                assert np.abs(ours - own).max() < 1e-11


def test_ends_of_steps_are_places_on_the_wire() -> None:
    path = curve_of(spring("hook-at-side", D=10.0)).state(load=12.0).path
    for piece in (*path.pieces, *path.reversed().pieces):
        wire = piece.segment
        if isinstance(wire, Strained):
            s, point, tangent = wire.steps
            assert (s[0], s[-1]) == (0.0, wire.length)
            assert np.diff(s).min() > 0
            assert np.abs(wire.point(s) - point).max() < 1e-12 * path.length
            assert np.abs(wire.tangent(s) - tangent).max() < 1e-12
