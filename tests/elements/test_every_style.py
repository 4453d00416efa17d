"""Hexahedra of every end style: none folded, the wire's volume, a closed surface, sets."""

from __future__ import annotations

import math

import numpy as np
import pytest

from springgeo.elements import Elements, MeshedWire
from springgeo.elements.quality import jacobians
from springgeo.ends import registry
from tests.ends.cases import random_case
from tests.gate import thinned

# every corner of an element, and three Gauss points a direction
_X, _W = np.polynomial.legendre.leggauss(3)
CORNERS = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)], dtype=float)
POINTS = np.array([[x, y, z] for x in _X for y in _X for z in _X])
WEIGHTS = np.array([x * y * z for x in _W for y in _W for z in _W])
STYLES = sorted(set(registry.styles()) - {"traced"})


def closed_and_outward(wire: MeshedWire) -> float:
    """Return the volume inside the surface's corners; asserts that every edge has two faces."""
    corner = wire.swept.surface_nodes[:, :4]
    edges = np.stack([corner, np.roll(corner, -1, axis=1)], axis=-1).reshape(-1, 2)
    assert len(np.unique(edges, axis=0)) == len(edges), "an edge twice in one direction"
    there = set(map(tuple, edges.tolist()))
    assert all((b, a) in there for a, b in there), "the surface is open"
    p = wire.nodes[corner]
    triangles = np.concatenate([p[:, [0, 1, 2]], p[:, [0, 2, 3]]])
    return (
        float(np.einsum("ti,ti->", triangles[:, 0], np.cross(triangles[:, 1], triangles[:, 2]))) / 6
    )


@pytest.mark.parametrize(("style", "hand"), thinned(2, STYLES, ["right", "left"]))
def test_no_element_is_folded_and_the_volume_is_the_wires(style, hand):
    geometry = random_case(registry.get(style), 3).build(hand)
    d, length = geometry.wire_diameter, geometry.path.length
    wire = MeshedWire.of(geometry, Elements("hex20", 0.25 * d))
    found = jacobians(wire.nodes, wire.elements, np.concatenate([CORNERS, POINTS]))
    assert found.min() > 0
    # a tube's volume is its section times the length of its centreline (Pappus)
    exact = math.pi * d * d / 4 * length
    assert float((found[:, 8:] @ WEIGHTS).sum()) == pytest.approx(exact, rel=2e-3)
    assert closed_and_outward(wire) == pytest.approx(exact, rel=0.12)
    assert np.array_equal(np.unique(wire.elements), np.arange(len(wire.nodes)))
    names = [n for n in wire.sets if n not in ("BENDS", "LOOPS", "STRAIGHT_WIRE", "GRIPPED_WIRE")]
    ends = [n for n in ("FIRST_END", "SECOND_END", "BODY") if n in wire.sets]
    members = np.concatenate([wire.sets[n] for n in ends])
    assert np.array_equal(np.sort(members), np.arange(len(wire.elements)))
    assert len(names) >= len(ends)
    labels = {p.label for p in geometry.path.pieces}
    assert {n.upper().replace(".", "_").replace("-", "_") for n in labels} <= set(wire.sets)
