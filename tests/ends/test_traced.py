"""An end through given points: it is the wire they were read from, and refuses what is none."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import springgeo as sg
from springgeo.curve import Path
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from springgeo.errors import SpecError
from tests.ends.cases import body_end
from tests.springs import asked

AWAY = st.floats(-1e6, 1e6)
TRACED = registry.get("traced")


def read_off(name: str, end: BodyEnd, apart: float = 0.8) -> list[list[float]]:
    """Return points read off another style's wire, from the last point of the coil."""
    style = registry.get(name)
    path = Path(style.shape(style.parameters(), end).pieces)
    s = np.linspace(0, path.length, int(path.length / apart) + 1)[1:]
    return (path.point(s) - np.array([end.coil_radius, 0.0, 0.0])).tolist()


@pytest.mark.parametrize("name", ["raised-hook", "full-twisted-loop", "hook-at-side"])
def test_it_is_the_wire_that_was_read(name: str) -> None:
    end = body_end(8.0, 1.0)
    style = registry.get(name)
    true = style.shape(style.parameters(), end)
    found = TRACED.shape(TRACED.parameters(points=read_off(name, end)), end)
    a, b = Path(true.pieces), Path(found.pieces)
    assert b.length == pytest.approx(a.length, rel=2e-3)
    s = np.linspace(0, 1, 200)
    far = np.linalg.norm(a.point(s * a.length) - b.point(s * b.length), axis=1)
    assert far.max() < 0.05
    assert found.hook_length == pytest.approx(true.hook_length, abs=0.02)
    assert found.opening == pytest.approx(true.opening, abs=0.05)
    assert b.joint_angles().max() < 1e-9
    assert b.curvature_jumps().max() < 1e-6


def test_stress_mesh_and_solid_work_on_it() -> None:
    end = body_end(8.0, 1.0)
    data = {
        "wire": {"diameter": 1.0},
        "body": {"mean_diameter": 8.0, "coils": 6.0},
        "ends": {
            "first": {"style": "traced", "points": read_off("raised-hook", end)},
            "second": {"style": "raised-hook"},
        },
        "service": {"loads": [10]},
    }
    spring = sg.Spring.from_dict(data)
    twin = sg.Spring.from_dict(data | {"ends": {"first": "raised-hook", "second": "raised-hook"}})
    assert all(c.ok for c in asked(spring).checks)
    rate = asked(twin).along_the_wire.rate
    assert asked(spring).along_the_wire.rate == pytest.approx(rate, rel=5e-3)
    assert spring.mesh().volume == pytest.approx(twin.mesh().volume, rel=5e-3)
    assert spring.solid().isValid()


def refusal(points: object) -> str:
    with pytest.raises(SpecError) as caught:
        TRACED.shape(TRACED.parameters(points=points), body_end(8.0, 1.0))
    (finding,) = caught.value.findings
    assert finding.field == "points"
    return finding.message


def test_points_that_are_no_wire_are_refused() -> None:
    assert "0.01 mm apart" in refusal([[0, 1, 0.1], [0, 1.01, 0.1], [0, 2, 1]])
    assert "bends to a radius" in refusal([[0, 1, 0.1], [0, 0.5, 1], [0, 1, 0.5]])


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(AWAY, AWAY, AWAY), min_size=2, max_size=6))
def test_whatever_points_are_given_it_is_made_or_refused(points: list[tuple[float, ...]]) -> None:
    try:
        found = TRACED.shape(TRACED.parameters(points=points), body_end(8.0, 1.0))
    except SpecError as exc:
        blamed, found = {f.field for f in exc.findings}, None
    if found is None:
        assert blamed == {"points"}
        return
    path = Path(found.pieces)
    assert np.isfinite(path.length)
    assert path.joint_angles().max() < 1e-9


def test_no_search_offers_it() -> None:
    assert not TRACED.offered
    assert [s.name for s in registry.styles().values() if not s.offered] == ["traced"]
