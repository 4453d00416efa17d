"""Plots: the data on the axes are the summary's, units on both axes, one colour per meaning."""

from __future__ import annotations

import sys

import numpy as np
import pytest

from springgeo import Spring, SpringgeoError, plots
from springgeo.chart import mpl as mpl_backend
from springgeo.specification.load import presets
from tests.springs import kept

mpl = pytest.importorskip("matplotlib")


@pytest.fixture(name="spring", scope="module")
def _spring() -> Spring:
    return kept("gate-latch")


def line(ax, words):
    (found,) = [x for x in ax.get_lines() if words in str(x.get_label())]
    return np.array(found.get_data(), dtype=float)


@pytest.mark.parametrize("name", presets())
def test_every_preset_draws_with_units(name):
    spring = kept(name)
    made = [
        plots.load_length(spring),
        plots.stress_along_wire(spring),
        plots.initial_tension(spring),
    ]
    if spring.summary().fatigue is not None:
        made += [plots.fatigue(spring), plots.fatigue(spring, bending=True)]
    for figure in made:
        (ax,) = figure.axes
        assert ax.get_ylabel().rpartition(", ")[2] in ("N", "MPa")
        assert ax.get_xlabel().rpartition(", ")[2] in ("mm", "MPa", "spring index D/d")
        assert ax.get_legend() is not None


def test_load_length_is_the_load_curve(spring):
    """The textbook's line is straight (EN 13906-2); the curve goes through every working point."""
    s, ax = spring.summary(), plots.load_length(spring).axes[0]
    x, y = line(ax, "handbook's straight line")
    assert x[0] == x[1] == s.geometry.free_length
    assert (y[0], y[1]) == (0.0, s.initial_tension.force)
    assert np.diff(y[1:]) / np.diff(x[1:]) == pytest.approx(s.rates.handbook)
    x, y = line(ax, "load curve")
    for p in s.points:
        assert np.interp(p.load, y, x) == pytest.approx(p.length, rel=1e-9)
        assert spring.load_curve.length(p.load) == pytest.approx(p.length, rel=1e-9)
    (bars,) = ax.containers
    low, high = bars.lines[2][0].get_segments()[-1][:, 1]
    top = s.load_line.along_the_wire[-1]
    assert (high - low) / 2 == pytest.approx(top.load * top.tolerance_percent / 100)


def test_stress_has_the_summarys_peaks(spring):
    ax, at = plots.stress_along_wire(spring, 20.0).axes[0], spring.along_the_wire.stressed(20.0)
    x, y = line(ax, "von Mises")
    assert y.max() == pytest.approx(at.von_mises, rel=5e-3)
    x, y = line(ax, "axial")
    assert y.max() == pytest.approx(at.hook_bending, rel=5e-3)
    assert x[-1] - x[0] == pytest.approx(np.ptp(spring.model.geometry.load_s), rel=1e-9)


def test_initial_tension_is_the_point_in_the_band(spring):
    s, ax = spring.summary(), plots.initial_tension(spring).axes[0]
    (c,), (tau,) = line(ax, "this spring")
    assert (c, tau) == (s.geometry.index, s.initial_tension.stress)
    index, middle = line(ax, "middle")
    assert s.initial_tension.preferred_low < np.interp(c, index, middle)
    assert np.interp(c, index, middle) < s.initial_tension.preferred_high


def cyclic(**service: object) -> Spring:
    data = kept("gate-latch").spec.model_dump(exclude_none=True)
    data["service"] = {"loads": [15, 25], "duty": "infinite", **service}
    return Spring.from_dict(data)


@pytest.mark.parametrize("bending", [False, True])
@pytest.mark.parametrize("cycles", [None, 1e5, 3e7])
def test_factors_of_safety_can_be_read_off_the_fatigue_plot(bending, cycles):
    # on the ray from the origin, as Shigley draws Gerber and Goodman lines (fig. 6-27)
    spring = cyclic(duty="cyclic", cycles=cycles) if cycles else cyclic()
    name, words = ("hook_bending", "hook bending") if bending else ("body_shear", "body")
    place = spring.summary().fatigue.along_the_wire[name]
    (ax,) = plots.fatigue(spring, bending=bending).axes
    (mean,), (alternating,) = line(ax, f"{words}, along")
    assert (mean, alternating) == (place.mean, place.alternating)
    x, y = line(ax, f"limit, {words}")
    factor = place.factor
    assert np.interp(factor * mean, x, y) == pytest.approx(factor * alternating, rel=2e-3)


def test_a_static_spring_has_no_cycle_to_draw():
    data = kept("gate-latch").spec.model_dump(exclude_none=True)
    data["service"] = {"loads": [15, 25], "duty": "static"}
    with pytest.raises(SpringgeoError, match=r"service\.duty"):
        plots.fatigue(Spring.from_dict(data))


def test_given_axes_are_drawn_on_and_returned(spring):
    from matplotlib.figure import Figure

    ax = Figure().subplots()
    assert plots.load_length(spring, ax) is ax.figure
    assert ax.lines


def test_a_figure_shows_itself_in_a_notebook(spring):
    figure = plots.load_length(spring)
    # IPython's display protocol: https://ipython.readthedocs.io/en/stable/config/integrating.html
    assert figure._repr_png_().startswith(b"\x89PNG")
    assert figure._repr_png_() == figure._repr_png_()


def test_a_missing_matplotlib_names_the_command(spring, monkeypatch):
    monkeypatch.setitem(sys.modules, "matplotlib.figure", None)
    mpl_backend._kind.cache_clear()
    with pytest.raises(ImportError, match=r"pip install 'springgeo\[plots\]'"):
        plots.load_length(spring).axes[0]


def test_importing_the_plots_loads_no_matplotlib():
    import subprocess

    code = "import sys, springgeo.plots; print('matplotlib' in sys.modules)"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "False"
