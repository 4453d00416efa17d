"""The lengths of a stroke: stops by name, over-travel, how far it is safe."""

from __future__ import annotations

import pytest

from springgeo import Spring
from springgeo.fit import safe_length
from tests.fit.conftest import specification
from tests.fit.reports import PIN, codes, report
from tests.gate import thinned
from tests.springs import asked

pytestmark = pytest.mark.usefixtures("presets_kept")


def test_stops_of_the_stroke_by_name() -> None:
    found = report(states=5, mating={"first": PIN, "over_travel": 2})
    named = [s.stop for s in found.states if s.stop]
    assert named == ["free", "installed", "max", "over-travel"]
    lengths = [s.length for s in found.states]
    assert lengths == sorted(lengths)
    at = {s.stop: s.length for s in found.states}
    assert at["over-travel"] == pytest.approx(at["max"] + 2)
    assert at["installed"] < at["max"]


def test_length_below_free_is_named() -> None:
    found = report(service={"lengths": [10, 40]})
    (f,) = [f for f in found.findings if f.code == "mounted-below-free"]
    assert f.field == "service.lengths.0"
    assert "mount further apart" in f.message
    assert found.verdict == "does not fit: mounted-below-free"


def test_over_travel_beyond_safe_stress() -> None:
    found = report(mating={"first": PIN, "over_travel": 40})
    assert "over-travel-unsafe" in codes(found)


@pytest.mark.parametrize(("share", "alarm"), [(0.99, False), (1.01, True)])
def test_over_travel_is_safe_up_to_the_safe_length(share: float, alarm: bool) -> None:
    free = report(mating={"first": PIN})
    assert free.safe_length is not None
    room = free.safe_length - max(s.length for s in free.states)
    found = report(mating={"first": PIN, "over_travel": room * share})
    assert ("over-travel-unsafe" in codes(found)) == alarm


@pytest.mark.parametrize(
    ("style", "loads"),
    thinned(
        2, ["full-twisted-loop", "extended-hook"], [[25, 40], [1, 40], [40], [1], [0.5, 2, 30]]
    ),
)
def test_the_safe_length_does_not_hang_on_the_working_points(
    style: str, loads: list[float]
) -> None:
    spring = Spring.from_dict(specification(style, service={"loads": loads}))
    far = safe_length(spring)
    told = asked(spring)
    assert far == told.pull.travel_stop
    top = spring.at(length=far).load
    assert top > told.initial_tension.force

    # from outside: at that length the weakest place of one way has just used up its allowable
    def margins(way: str, **service: list[float]) -> list[float]:
        s = asked(Spring.from_dict(specification(style, service=service)))
        (point,) = s.points if way == "handbook" else s.along_the_wire.points
        return [m for m in point.margin.model_dump().values() if m is not None]

    found = [*margins("handbook", lengths=[far]), *margins("along the wire", loads=[top])]
    assert min(found) == pytest.approx(1, rel=1e-6)
    assert max(found) > 1.001


def test_a_low_first_load_raises_no_alarm() -> None:
    for loads in ([20, 30], [1, 30]):
        found = report(mating={"first": PIN, "over_travel": 2}, service={"loads": loads})
        assert "over-travel-unsafe" not in codes(found)


def test_out_of_reach_is_said_once_where_to_change_it() -> None:
    found = report(mating={"first": PIN, "over_travel": 4000}, states=4)
    (f,) = [f for f in found.findings if f.code == "beyond-straight-wire"]
    assert f.field == "mating.over_travel"
    assert [s.stop for s in found.states] == ["free", "installed", "max"]
