"""Every registered style, anywhere in the range it states: measured on the finished path."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.curve import hook_approach
from springgeo.ends import registry
from springgeo.ends.protocol import EndShape, EndStyle
from tests.gate import thinned

from .cases import Case, cases, random_case
from .measure import Hook, hook, plane_angle

STYLES = list(registry.styles().values())
RELATIVE = 1e-6
every_style = pytest.mark.parametrize("style", STYLES, ids=lambda s: s.name)


@pytest.mark.parametrize(("style", "seed"), thinned(4, STYLES, range(16)))
def test_random_springs(style: EndStyle, seed: int) -> None:
    _check(random_case(style, seed))


@every_style
@settings(max_examples=4)
@given(data=st.data())
def test_any_spring(style: EndStyle, data: st.DataObject) -> None:
    _check(data.draw(cases(style)))


@pytest.mark.slow
@every_style
@settings(max_examples=60)
@given(data=st.data())
def test_many_springs(style: EndStyle, data: st.DataObject) -> None:
    _check(data.draw(cases(style)))


def _check(case: Case) -> None:
    g = case.build()
    d = g.wire_diameter
    assert np.all(g.path.joint_angles() <= 1e-9)
    assert np.all(g.path.joint_gaps() <= 1e-9 * d)
    near = hook_approach(g.path, d)
    assert near is None or near.distance >= d * (1 - 1e-9), near
    assert g.box[1, 2] - g.box[0, 2] == pytest.approx(g.overall_length, abs=1e-6 * d)
    hooks: list[Hook] = []
    for i, (side, shape) in enumerate((("first", g.first), ("second", g.second))):
        if shape.contact_s is not None:
            found = hook(g.path, side, d)
            _check_hook(found, shape, case.parameters[i], g.coil_radius)
            point = g.path.point(np.array([g.contact_s[i]]))[0]
            _check_contact(point, side, g.height, d, shape.offset)
            hooks.append(found)
    if len(hooks) == 2 and case.angle is not None:
        away = plane_angle(hooks[0].plane, hooks[1].plane) - case.angle
        assert math.sin(away) == pytest.approx(0.0, abs=1e-7)
        assert abs(g.turns - case.turns) <= 0.25 + 1e-9


def _check_hook(found: Hook, shape: EndShape, asked: dict[str, float], radius: float) -> None:
    assert found.loops, "no curved wire in the loop"
    measured = {
        "loop_radius": found.loops[0].radius,
        "bend_radius": found.bend_radius,
        "hook_length": found.length,
        "opening": found.opening,
    }
    for name, value in measured.items():
        stated = getattr(shape, name)
        assert value == pytest.approx(stated, rel=RELATIVE), f"{name} stated"
        if name in asked:
            assert value == pytest.approx(asked[name], rel=RELATIVE), f"{name} asked for"
    for circle in found.loops:
        assert circle.misfit <= 1e-9 * radius
        assert circle.radius == pytest.approx(found.loops[0].radius, rel=1e-8)
    assert abs(found.plane[2]) <= 1e-8, "the loop's plane is tilted to the axis"
    # a hook on the axis has it in its plane; one at the side passes it no further than it says
    assert found.off_axis <= shape.offset + 1e-8 * radius, "the loop's plane misses the axis"


def _check_contact(point: np.ndarray, side: str, length: float, d: float, offset: float) -> None:
    """The centreline at the contact: half a wire beyond the inside of the hook, on the axis.

    A hook at the side stands as far from the axis as it says.
    """
    z = length + d / 2 if side == "second" else -d / 2
    assert point[2] == pytest.approx(z, abs=1e-9 * (length + d))
    assert np.hypot(point[0], point[1]) == pytest.approx(offset, abs=1e-9 * (length + d))
