from functools import cache

import numpy as np
import pytest

from springgeo import Spring
from springgeo.drawing.layout import sights
from springgeo.drawing.view.silhouette import silhouette
from springgeo.specification.load import presets
from tests.gate import thinned
from tests.springs import kept

shapely = pytest.importorskip("shapely")


SHORT = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 3},
    "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "machine-half-loop"}},
}


@cache
def fine(name):
    """Return the corners of a preset's fine mesh, which is seen from three sides."""
    made = kept(name)
    return made.mesh(chord=1e-3 * made.model.geometry.wire_diameter).vertices


@pytest.mark.parametrize(("name", "which"), thinned(3, sorted(presets()), [0, 1, 2]))
def test_extent_is_that_of_the_mesh(name, which):
    spring = kept(name)
    d = spring.model.geometry.wire_diameter
    sight = sights("first")[which]
    flat = sight.flat(fine(name))
    seen = silhouette(spring.centreline, d, sight)
    assert np.allclose(seen.bounds, [*flat.min(axis=0), *flat.max(axis=0)], atol=2e-3 * d)


@pytest.mark.parametrize("which", [0, 1])
def test_area_is_that_of_the_projected_mesh(which):
    spring = Spring.from_dict(SHORT)
    sight = sights("first")[which]
    mesh = spring.mesh(chord=4e-3)
    corners = sight.flat(mesh.vertices)[mesh.faces]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    near = corners[a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] > 1e-9]
    shadow = shapely.union_all(shapely.polygons(near), grid_size=1e-6)
    seen = silhouette(spring.centreline, 1.2, sight)
    assert seen.area.area == pytest.approx(shadow.area, rel=1e-3)


def test_nothing_hidden_is_drawn_and_every_line_lies_on_the_wire():
    spring = kept("gate-latch")
    seen = silhouette(spring.centreline, 1.2, sights("first")[0])
    wide, lines = seen.area.buffer(1e-3), [shapely.linestrings(x) for x in seen.lines]
    shapely.prepare(wide)
    assert shapely.contains(wide, lines).all()
    drawn = shapely.union_all(lines)
    missing = seen.area.boundary.difference(drawn.buffer(0.02)).length
    assert missing < 0.01 * seen.area.boundary.length


def test_end_view_shows_only_the_near_turn():
    spring = kept("gate-latch")
    many = silhouette(spring.centreline, 1.2, sights("first")[1])
    assert sum(len(x) for x in many.lines) < 1500
