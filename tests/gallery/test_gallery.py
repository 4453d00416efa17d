"""The gallery's scripts: the two pictures quickly, the finite-element mesh without solving."""

from __future__ import annotations

import importlib
import json
import math
import struct
from pathlib import Path

import numpy as np
import pytest

from springgeo import Spring
from springgeo.elements.swept import LOCAL20
from springgeo.specification.load import spec_of
from springgeo.summary.wire import contacts_of
from tests.springs import kept

GALLERY = Path(__file__).parents[2] / "gallery"


@pytest.fixture(name="script")
def _script(monkeypatch):
    monkeypatch.syspath_prepend(str(GALLERY))

    def load(name):
        return importlib.import_module(name)

    return load


def png_size(path):
    head = path.read_bytes()[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n"
    return struct.unpack(">II", head[16:])


# the spring of each picture that shows numbers; a script's own, where it is none of the presets
SHOWN = {
    "drawing_sheet": "gate-latch",
    "live_pages_compare": "gate-latch",
    "live_pages_desk": "gate-latch",
    "live_pages_explore": "gate-latch",
    "over_centre": None,
    "plots_of_a_spring": None,
    "report_page": "gate-latch",
    "stress_along_wire": "gate-latch",
    "tolerance": None,
}


@pytest.mark.parametrize("picture", SHOWN)
def test_no_picture_is_stale(picture, script) -> None:
    """What a picture shows is what is told today; otherwise run its script."""
    noted, preset = json.loads((GALLERY / "shown.json").read_text()), SHOWN[picture]
    if preset is not None:
        spring = Spring.from_preset(preset)
    else:
        own = script(picture)
        spring = own.spring() if hasattr(own, "spring") else Spring.from_dict(own.SPEC)
    assert noted[f"{picture}.png"] == pytest.approx(script("shown").told(spring), rel=2e-4)


def test_stress_along_wire_draws_a_preset(script, tmp_path):
    pytest.importorskip("matplotlib")
    out = tmp_path / "stress.png"
    script("stress_along_wire").draw("gate-latch", 20.0, out)
    width, height = png_size(out)
    assert width > 1000
    assert height > 400


def test_plots_of_a_spring_draws(script, tmp_path):
    pytest.importorskip("matplotlib")
    out = tmp_path / "plots.png"
    script("plots_of_a_spring").main(out)
    assert png_size(out)[0] > 1000


def test_stress_along_wire_refuses_a_wrong_torque(script):
    pytest.importorskip("matplotlib")
    spring = kept("gate-latch")
    columns = spring.stress(20.0)
    with pytest.raises(AssertionError, match="torque"):
        script("stress_along_wire").check(spring, columns, 21.0)


def test_presets_render_one_small_tile(script, tmp_path):
    pytest.importorskip("matplotlib")
    render = script("presets_render")
    if render.MISSING:
        pytest.skip(render.MISSING)
    out = tmp_path / "presets.png"
    render.draw(["relay-armature"], out, 320, 128)
    assert png_size(out)[0] > 300


def test_presets_render_says_why_it_cannot(script, tmp_path, monkeypatch):
    render = script("presets_render")
    monkeypatch.setattr(render, "MISSING", "VTK cannot be loaded: test")
    with pytest.raises(SystemExit, match="skipped: VTK"):
        render.draw(["relay-armature"], tmp_path / "none.png", 320, 128)


@pytest.fixture(name="fe")
def _fe(script):
    elements, mesh = script("finite_elements"), script("finite_elements_mesh")
    spring = Spring(spec_of(elements.DEFAULT))
    g = spring.model.geometry
    return spring, mesh, mesh.Model.of(g.path, g.wire_diameter, contacts_of(g), 3)


def test_hexahedra_have_positive_jacobians_and_the_volume_of_the_wire(fe):
    spring, mesh, model = fe
    assert model.jacobians(mesh.GAUSS).min() > 0
    assert model.jacobians(LOCAL20).min() > 0
    d = spring.model.geometry.wire_diameter
    exact = math.pi * d * d / 4 * spring.centreline.length
    assert model.volume == pytest.approx(exact, rel=1e-3)


def test_mid_nodes_of_the_rim_lie_on_the_circle(fe):
    _, _, model = fe
    ids = np.unique(model.elements)
    r = np.linalg.norm(model.flat[ids % len(model.flat)], axis=1)
    rim = r > 0.97
    assert rim.any()
    np.testing.assert_allclose(r[rim], 1.0, atol=1e-12)


def test_load_is_in_balance_and_six_freedoms_are_held(fe):
    _, _, model = fe
    forces = model.forces(10.0)
    where = model.xyz[list(forces)]
    f = np.array(list(forces.values()))
    np.testing.assert_allclose(f.sum(axis=0), 0.0, atol=1e-11)
    np.testing.assert_allclose(np.cross(where, f).sum(axis=0), 0.0, atol=1e-9)
    x = model.xyz
    rows = [
        np.concatenate([np.eye(3)[k], np.cross(x[i], np.eye(3)[k])]) for i, k in model.supports()
    ]
    assert np.linalg.matrix_rank(np.array(rows)) == 6


def test_report_page_takes_its_picture_and_reads_a_length(script, tmp_path):
    shot = script("report_page")
    if shot.browser() is None:
        pytest.skip(shot.NEEDED)
    out = tmp_path / "page.png"
    shot.draw("relay-armature", out)
    assert png_size(out) == (shot.WIDTH, shot.HEIGHT)


def test_report_page_refuses_a_wrong_length(script):
    spring = kept("gate-latch")
    right = spring.summary().along_the_wire.points[-1]
    script("report_page").check(spring, right.load, right.length)
    with pytest.raises(AssertionError, match="length"):
        script("report_page").check(spring, right.load, 1.05 * right.length)


def test_tolerance_draws(script, tmp_path, monkeypatch):
    pytest.importorskip("matplotlib")
    out = tmp_path / "tolerance.png"
    made = Spring.tolerance
    monkeypatch.setattr(Spring, "tolerance", lambda self: made(self, springs=1 << 12))
    script("tolerance").main(out)
    assert png_size(out)[0] > 1000
