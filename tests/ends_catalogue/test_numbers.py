"""Physical numbers of the catalogue: arms, joints, stresses, and the same ends under load."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest

from springgeo import Spring
from springgeo.curve import hook_approach
from springgeo.curve.kinds.eased_coil import EasedCoil
from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from springgeo.mechanics.hook import K_A
from springgeo.spring.geometry import Geometry
from springgeo.statics import WireStress, analyse
from springgeo.summary.wire import contacts_of

from .checks import Case, body_end

HOOKS = [s for s in registry.styles().values() if s.holds_load]
SIDE = [s for s in HOOKS if s.shape(s.parameters(), body_end(8.0)).offset > 0]
OTHER = [s for s in HOOKS if s not in SIDE]
E, G = 203_400.0, 82_700.0


def _both(style: EndStyle, index: float = 8.0, **asked: float) -> Geometry:
    case = Case(body_end(index), 12.0, "right", (style, style), (asked, asked))
    return case.build()


def _stress(g: Geometry) -> WireStress:
    return analyse(g.path, g.wire_diameter, contacts_of(g), E, G)


@pytest.mark.parametrize("style", OTHER, ids=lambda s: s.name)
def test_contacts_stay_on_the_axis_to_the_bit(style: EndStyle) -> None:
    g = _both(style)
    assert g.contacts[0].tolist() == [0.0, 0.0, 0.0]
    assert g.contacts[1].tolist() == [0.0, 0.0, g.length]


@pytest.mark.parametrize("style", SIDE, ids=lambda s: s.name)
def test_side_loops_pull_beside_the_axis(style: EndStyle) -> None:
    g = _both(style)
    for point, shape in zip(g.contacts, (g.first, g.second), strict=True):
        assert math.hypot(point[0], point[1]) == pytest.approx(shape.offset, rel=1e-12)
        assert shape.offset == pytest.approx(g.coil_radius, rel=0.01)
    # a pull at the arm e beside the axis twists the far side of the coil by F (R + e), twice
    # what a central pull does; how much of it any turn sees depends on where the contacts stand
    central = _stress(_both(registry.get("machine-half-loop"))).peaks["body"].shear.value
    side = _stress(g).peaks["body"].shear.value
    assert 1.1 * central < side < 2.05 * central


def test_side_loops_in_line_double_the_shear_of_the_body() -> None:
    """Torque F (R + R) at the far side of the coil: load and moment from statics alone."""
    style = registry.get("full-loop-at-side")
    g = _both(style)
    a, b = g.contacts
    flat = np.hypot(*(a - b)[:2])
    assert flat < 0.2 * g.coil_radius, "the two contacts are not in line"
    central = _stress(_both(registry.get("machine-half-loop")))
    ratio = _stress(g).peaks["body"].shear.value / central.peaks["body"].shear.value
    assert ratio == pytest.approx(2.0, rel=0.06)


@pytest.mark.parametrize("end_diameter", [5.05, 5.6, 6.4])
def test_reduced_coils_lower_the_hook_stress_with_their_diameter(end_diameter: float) -> None:
    plain = _stress(_both(registry.get("full-twisted-loop"))).peaks["A"].axial.value
    reduced = _both(registry.get("reduced-full-loop"), end_diameter=end_diameter)
    peak = _stress(reduced).peaks["A"].axial.value
    # moment F r1, and the handbook's factor for the tighter curve
    factor = float(K_A(end_diameter)) / float(K_A(8.0))
    assert peak / plain == pytest.approx(factor * end_diameter / 8.0, rel=0.03)


def test_reduced_coils_join_the_body_in_curvature() -> None:
    g = _both(registry.get("reduced-full-loop"))
    names = [p.label for p in g.path.pieces]
    at = names.index("body")
    assert names[at - 1 : at + 2] == ["first.reduced-coils", "body", "second.reduced-coils"]
    jumps = g.path.curvature_jumps()
    assert max(jumps[at - 1], jumps[at]) < 1e-6 / g.coil_radius


def test_an_eased_coil_knows_its_derivatives() -> None:
    coil = EasedCoil(
        radius=4.0, end_radius=2.5, pitch=1.0, end_pitch=1.1, turns=2.5, lift=0.3, share=0.8
    )
    s = np.linspace(0.1, coil.length - 0.1, 60)
    h = 1e-4
    slope = (coil.point(s + h) - coil.point(s - h)) / (2 * h)
    assert slope == pytest.approx(coil.tangent(s), abs=1e-7)
    bend = (coil.tangent(s + h) - coil.tangent(s - h)) / (2 * h)
    assert bend == pytest.approx(coil.curvature(s), abs=1e-6)
    assert np.einsum("ij,ij->i", coil.normal(s), coil.tangent(s)) == pytest.approx(0, abs=1e-14)


def test_double_loop_holds_its_pin_with_one_turn_on_the_axis() -> None:
    g = _both(registry.get("double-twisted-full-loop"))
    single = _both(registry.get("full-twisted-loop"))
    assert g.length == pytest.approx(single.length, rel=1e-12)
    # the second turn carries nothing: the same peak at A
    double, one = _stress(g).peaks["A"].axial.value, _stress(single).peaks["A"].axial.value
    assert double == pytest.approx(one, rel=1e-3)


def _spec(style: str, coils: float) -> Mapping[str, Any]:
    return {
        "name": "loaded",
        "wire": {"material": "astm-a228", "diameter": 1.0},
        "body": {"mean_diameter": 8.0, "coils": coils},
        "ends": {"first": {"style": style}, "second": {"style": style}, "angle": "90 deg"},
    }


@pytest.mark.parametrize("style", registry.styles().values(), ids=lambda s: s.name)
def test_under_load_the_wire_keeps_its_length(style: EndStyle) -> None:
    made = Spring.from_dict(_spec(style.name, 12.0))
    free = made.model.geometry
    loaded = made.at(length=free.length + 2.0 * free.body_length).geometry
    assert loaded.path.length == pytest.approx(free.path.length, rel=1e-9)
    assert np.all(loaded.path.joint_angles() <= 1e-9)
    near = hook_approach(loaded.path, loaded.wire_diameter)
    assert near is None or near.distance >= loaded.wire_diameter * (1 - 1e-9)


USUAL = [s for s in HOOKS if s.usual is not None]


@pytest.mark.parametrize("style", USUAL, ids=lambda s: s.name)
@pytest.mark.parametrize("index", [6.0, 8.0, 12.0])
def test_defaults_are_as_long_as_the_trade_makes_them(style: EndStyle, index: float) -> None:
    body = body_end(index)
    length = style.shape(style.parameters(), body).hook_length / body.inside_diameter
    assert style.usual is not None
    assert style.usual.low - 1e-9 <= length <= style.usual.high + 1e-9


def test_nearly_every_source_is_used() -> None:
    assert len(USUAL) >= 9
    assert all(s.usual is not None and s.usual.source for s in USUAL)
