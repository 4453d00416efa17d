"""The diagram of a cycle where the spring is mounted: the points that gave the told factor."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from springgeo.chart import Label, Line, Marks
from springgeo.plots.fatigue import chart, limit
from springgeo.summary import Summary
from tests.mounted import ASIDE, FREE, aside, gate
from tests.springs import asked

CYCLE = {"duty": "cyclic", "cycles": 1e6}


def points(s: Summary, bending: bool) -> dict[str, list[tuple[float, float]]]:
    """Return the marks of a diagram by their role."""
    found: dict[str, list[tuple[float, float]]] = {}
    for item in chart(s, bending).items:
        if isinstance(item, Marks):
            found.setdefault(item.role, []).extend(item.points)
    return found


@pytest.mark.parametrize(
    ("service", "mating", "styles"),
    [
        ({"loads": [5.0, 30.0]}, ASIDE, ()),
        ({"loads": [5.0, 30.0]}, ASIDE, ("raised-hook", "hook-at-side")),
        ({"lengths": [34.0, 44.0]}, ASIDE, ()),
        ({"lengths": [66.0, 76.0]}, FREE, ("extended-eye", "extended-eye")),
    ],
)
def test_the_point_of_the_told_factor_is_on_the_diagram(
    service: dict[str, Any], mating: dict[str, Any], styles: tuple[str, ...]
) -> None:
    s = asked(gate({**CYCLE, **service}, mating, *styles))
    f = s.fatigue
    assert f is not None
    assert f.as_mounted
    places = f.mounted if f.way == "along the wire" else f.mounted_handbook
    name = min(places, key=lambda k: places[k].factor or np.inf)
    at = places[name].mean, places[name].alternating
    role = "mounted" if f.way == "along the wire" else "mounted-hollow"
    drawn = chart(s, name == "hook_bending")
    assert at in points(s, name == "hook_bending")[role]
    # so far from the limit as the factor says, on the ray from the origin
    line = next(i for i in drawn.items if isinstance(i, Line))
    assert line.points == limit(f.along_the_wire[name]) == limit(places[name])
    # between its points, some MPa apart, the line is straight
    x, y = np.array(line.points).T
    mean, alternating = (np.interp(f.margin * at[0], x, v) for v in (x, y))
    step = np.interp(f.margin * at[0], x[1:], np.diff(y))
    assert (mean, alternating) == pytest.approx(np.multiply(f.margin, at), abs=abs(step) / 2)
    # all within the axes
    assert at[0] < drawn.x.high
    assert at[1] < drawn.y.high


@pytest.mark.parametrize("bending", [False, True])
def test_each_place_is_named_once_where_its_factor_is_the_lesser(bending: bool) -> None:
    s = asked(aside({**CYCLE, "loads": [5.0, 30.0]}, offset=8.0))
    f = s.fatigue
    assert f is not None
    drawn = chart(s, bending)
    named = {(i.x, i.y) for i in drawn.items if isinstance(i, Label)}
    names = ("hook_bending",) if bending else ("body_shear", "hook_torsion")
    worse = (
        min((f.along_the_wire[n], f.mounted[n]), key=lambda p: p.factor or np.inf) for n in names
    )
    assert named == {(p.mean, p.alternating) for p in worse}
    straight, there = drawn.told.split("As mounted: ")
    for n in names:
        assert f"factor {f.along_the_wire[n].factor:.3g}" in straight
        assert f"factor {f.mounted[n].factor:.3g}" in there


def test_a_straight_pull_has_no_points_as_mounted() -> None:
    s = asked(gate({**CYCLE, "loads": [5.0, 30.0]}))
    assert set(points(s, bending=False)) == {"hollow", "point"}
    assert "ounted" not in chart(s, bending=False).told
