"""The bar's own finite elements against closed forms and against their data file."""

from __future__ import annotations

import importlib
import json
import math
from pathlib import Path

import numpy as np
import pytest

from springgeo.curve import Arc, Line, Piece
from springgeo.curve import Path as Wire
from springgeo.curve.frame import vector

pytest.importorskip("scipy")
GALLERY = Path(__file__).parents[2] / "gallery"


@pytest.fixture(name="bar")
def _bar(monkeypatch):
    monkeypatch.syspath_prepend(str(GALLERY))
    return importlib.import_module("bent_bar")


@pytest.fixture(name="family")
def _family(bar):
    return importlib.import_module("bend_family")


def test_straight_bar_is_exact_but_for_the_interpolation_in_curvature(bar):
    wire = Wire([Piece(Line.between(vector(0, 0, 0), vector(6, 0, 0)), "leg", "straight")])
    loads = [(np.zeros(3), m) for m in np.eye(3)] + [(vector(1, 0, 0), np.zeros(3))]
    found = bar.solve(wire, 0.0, 6.0, 1.0, loads, bar.Section(degree=6), 0.5, 0.5)
    most = np.abs(found.stress).max(axis=2)
    np.testing.assert_allclose(most[0, :, 2], 16 / math.pi, rtol=2e-5)
    np.testing.assert_allclose(most[1, :, 0], 32 / math.pi, rtol=2e-5)
    np.testing.assert_allclose(most[3, :, 0], 4 / math.pi, rtol=2e-5)


def test_ring_is_goehner_and_its_rim_is_free(bar):
    # torsion of a coil of index 6 by an axial load at its centre: K = 1 + 5/(4C) + 7/(8C²) + 1/C³
    # Source: Göhner's series; from memory
    C = 6
    arc = Arc.leaving(vector(0, 0, 0), vector(1, 0, 0), vector(0, 1, 0), C / 2, 2.6)
    end = vector(0, C / 2, 0) - arc.point(np.array([arc.length]))[0]
    load = (vector(0, 0, 1), np.cross(end, vector(0, 0, 1)))
    wire = Wire([Piece(arc, "arc", "loop")])
    found = bar.solve(wire, 0.0, wire.length, 1.0, [load], bar.Section(), 0.4, 0.4)
    middle = np.abs(found.s - wire.length / 2) < 1.0
    shear = np.abs(found.stress[0, middle, :, 2]).max()
    ring = (1 + 5 / (4 * C) + 7 / (8 * C * C) + 1 / C**3) * 8 * C / math.pi
    assert shear == pytest.approx(ring, rel=1e-3)
    assert np.abs(found.stress[0, middle, :, 3]).max() < 2e-3 * shear


def test_a_chain_of_the_data_file_is_found_again(family):
    data = json.loads(family.DATA.read_text())
    entry = next(c for c in data["chains"] if len(c["parts"]) == 4)
    loads = [(np.array(c["force"]), np.array(c["moment"])) for c in entry["cases"]]
    solved = family.influence([tuple(p) for p in entry["parts"]], family.Section(largest=0.75))
    for case, found in zip(entry["cases"], family.peaks(solved, loads), strict=True):
        for kind, (value, s) in found.items():
            assert value == pytest.approx(case[kind][0], rel=1e-3)
            assert s == pytest.approx(case[kind][1], abs=0.02)
