"""Hooks of a loaded spring, measured on its path: they are what the state says they are."""

from __future__ import annotations

import pytest

import springgeo as sg
from springgeo.specification.load import presets
from tests.ends.measure import hook


@pytest.mark.parametrize("name", presets())
@pytest.mark.parametrize("stretch", [1.01, 1.2])
def test_measured_as_stated(name: str, stretch: float) -> None:
    spring = sg.Spring.from_preset(name)
    free = spring.model.geometry
    g = spring.at(length=free.length * stretch).geometry
    for side, shape, before in (("a", g.a, free.a), ("b", g.b, free.b)):
        if shape.contact_s is None:  # no hook of wire: plain, or a fitted part (tests/fittings)
            continue
        found = hook(g.path, side, g.diameter)
        assert found.length == pytest.approx(shape.hook_length, rel=1e-6)
        assert found.loops[0].radius == pytest.approx(shape.loop_radius, rel=1e-8)
        assert found.bend_radius == pytest.approx(shape.bend_radius, rel=1e-9)
        assert found.opening == pytest.approx(shape.opening, abs=1e-6 * g.diameter)
        # a hook is not bent anew by the load: the bend keeps its radius
        assert shape.bend_radius == pytest.approx(before.bend_radius, rel=1e-12)
