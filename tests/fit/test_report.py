"""The report over the stroke: verdicts, findings that say what to change, JSON, command."""

from __future__ import annotations

import json
import math
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from springgeo import SpecError, Spring
from springgeo.cli.main import run
from springgeo.findings import warning
from springgeo.fit import FitReport, Mating, fit, safe_length
from springgeo.fit.stroke import report as report_on
from tests.gate import thinned
from tests.springs import asked

from .conftest import specification

pytestmark = pytest.mark.usefixtures("presets_kept")

PIN = {"pin": {"diameter": 7, "length": 20}}


def report(style: str = "machine-half-loop", states: int = 1, **extra: Any) -> FitReport:
    mating = Mating.model_validate(extra.pop("mating", {"first": PIN}))
    return fit(_spring(style, json.dumps(extra)), mating, states=states)


@cache
def _spring(style: str, extra: str) -> Spring:
    """Return a spring that many tests put between parts of their own."""
    return Spring.from_dict(specification(style, **json.loads(extra)))


def codes(found: FitReport) -> set[str]:
    return {f.code for f in found.findings}


def test_stops_of_the_stroke_by_name() -> None:
    found = report(states=5, mating={"first": PIN, "over_travel": 2})
    named = [s.stop for s in found.states if s.stop]
    assert named == ["free", "installed", "max", "over-travel"]
    lengths = [s.length for s in found.states]
    assert lengths == sorted(lengths)
    at = {s.stop: s.length for s in found.states}
    assert at["over-travel"] == pytest.approx(at["max"] + 2)
    assert at["installed"] < at["max"]


def test_a_good_pin_fits_over_the_whole_stroke() -> None:
    found = report("full-twisted-loop", states=4)
    assert found.verdict == "fits"
    assert found.ok
    for s in found.states:
        assert s.first is not None
        assert s.first.hook.distance == pytest.approx(0, abs=1e-6)
        assert s.first.neighbour.distance > 1
        # a loaded loop leans by some degrees, and the pin with it to the wire's inside
        assert math.dist(s.first.seat, (0, 0, 0)) == pytest.approx(3.5, abs=0.01)
        assert s.first.seat[0] == pytest.approx(0, abs=0.35 if s.load else 1e-12)
        assert s.first.inside == pytest.approx(8.4, rel=1e-3)


def test_pin_larger_than_the_loop() -> None:
    found = report(mating={"first": {"pin": {"diameter": 9, "length": 20}}})
    (message,) = [f.message for f in found.findings if f.code == "pin-larger-than-loop"]
    assert "9 mm" in message
    end = found.states[0].first
    assert end is not None
    assert end.largest is not None
    assert f"make it at most {end.largest:.4g} mm" in message
    assert not found.ok


def test_the_largest_pin_named_does_fit() -> None:
    end = report().states[0].first
    assert end is not None
    assert end.neighbour.distance < 0
    assert end.largest is not None
    for share, fits in ((0.99, True), (1.01, False)):
        pin = {"pin": {"diameter": end.largest * share, "length": 20}}
        assert report(mating={"first": pin}).ok is fits


def test_pin_that_crosses_the_body() -> None:
    tilted = {"pin": {"diameter": 5, "length": 30, "direction": [0, 1, 0.5]}}
    found = report(mating={"first": tilted})
    assert "part-meets-body" in codes(found)
    assert "hook_length" in next(f.message for f in found.findings if f.code == "part-meets-body")


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


@pytest.mark.parametrize(
    ("part", "room"),
    [
        # by hand: what is left beside a wire of 1.2 mm in the middle, on either side
        ({"pin": {"diameter": 7, "length": 20}}, (20 - 1.2) / 2),
        (
            {"stud": {"diameter": 8, "groove_diameter": 6, "groove_width": 3, "length": 9}},
            (3 - 1.2) / 2,
        ),
        ({"plate": {"hole_diameter": 3.4, "thickness": 1, "edge_distance": 4}}, (3.4 - 1.2) / 2),
    ],
)
def test_room_beside_the_wire(part: dict[str, Any], room: float) -> None:
    end = report(mating={"first": part}).states[0].first
    assert end is not None
    assert end.side_room == pytest.approx(room, abs=1e-12)


def test_a_plate_passes_with_the_thinner_of_thickness_and_web() -> None:
    mouth = report(mating={"first": PIN}).states[0].first
    assert mouth is not None
    for thickness, web, enters in (
        (0.9 * mouth.mouth, 1.1 * mouth.mouth, True),
        (1.1 * mouth.mouth, 0.9 * mouth.mouth, True),
        (1.1 * mouth.mouth, 1.1 * mouth.mouth, False),
    ):
        plate = {"hole_diameter": 3, "thickness": thickness, "edge_distance": web + 1.5}
        found = codes(report(mating={"first": {"plate": plate}}))
        assert ("plate-does-not-enter" in found) is not enters


def test_falls_off_with_enough_play() -> None:
    small = {"pin": {"diameter": 2, "length": 20}}
    held = report(mating={"first": small, "play": 1})
    loose = report(mating={"first": small, "play": 6})
    assert held.states[0].first is not None
    assert held.states[0].first.hold == "held"
    assert held.states[0].first.entry == "over"
    assert "falls-off" not in codes(held)
    assert "falls-off" in codes(loose)
    closed = report("full-twisted-loop", mating={"first": small, "play": 6})
    assert closed.states[0].first is not None
    assert closed.states[0].first.hold == "captive"
    assert closed.states[0].first.entry == "thread"


def test_a_hook_that_opens_under_load_does_not_let_its_pin_go() -> None:
    """Hung on, and dropped, without load: what passes the loaded mouth alone is captive."""
    spring = _spring("machine-half-loop", json.dumps({"service": {"loads": [10, 45]}}))
    free, wide = (
        s.first.mouth
        for s in fit(spring, Mating.model_validate({"first": PIN}), states=1).states
        if s.first is not None and s.stop in ("free", "max")
    )
    assert wide > 1.05 * free
    pin = {"pin": {"diameter": (free + wide) / 2, "length": 20}}
    found = fit(spring, Mating.model_validate({"first": pin, "play": 50}), states=3)
    ends = [s.first for s in found.states if s.first is not None]
    assert [e.hold for e in ends] == ["captive"] * len(found.states)
    assert {e.entry for e in ends} == {"thread"}
    assert "falls-off" not in codes(found)


def test_a_bore_made_as_told_clears_the_whole_stroke() -> None:
    """The spring bows more and more; what is to change is told of the worst state."""
    spring = Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1},
            "body": {"mean_diameter": 8, "coils": 10, "initial_stress": 60},
            "ends": {"first": "full-loop-at-side", "second": "full-loop-at-side", "facing": 180},
            "service": {"loads": [10, 30]},
        }
    )

    def around(bore: float) -> FitReport:
        return fit(
            spring, Mating.model_validate({"around": {"bore": {"diameter": bore}}}), states=3
        )

    (told,) = [f.message for f in around(9.4).findings if f.code == "bore-too-narrow"]
    least = float(told.split("at least ")[1].split(" ")[0])
    assert "bore-too-narrow" not in codes(around(least + 0.01))
    assert "bore-too-narrow" in codes(around(least - 0.05))


@pytest.mark.parametrize(
    ("mate", "code"),
    [
        ({"pin": {"diameter": 2, "length": 20}}, "pin-thin"),
        ({"pin": {"diameter": 5, "length": 20}}, "pin-ratio"),
        ({"pin": {"diameter": 7, "length": 2}}, "side-room"),
        (
            {"stud": {"diameter": 8, "groove_diameter": 6, "groove_width": 1, "length": 9}},
            "groove-too-narrow",
        ),
        ({"plate": {"hole_diameter": 1, "thickness": 1, "edge_distance": 2}}, "hole-too-small"),
        ({"plate": {"hole_diameter": 3, "thickness": 9, "edge_distance": 4}}, "plate-too-thick"),
        (
            {"stud": {"diameter": 12, "groove_diameter": 7, "groove_width": 2, "length": 9}},
            "head-does-not-pass",
        ),
    ],
)
def test_advice_by_code(mate: dict[str, Any], code: str) -> None:
    assert code in codes(report(mating={"first": mate}))


def test_plate_does_not_enter_a_closed_loop() -> None:
    plate = {"plate": {"hole_diameter": 3, "thickness": 2, "edge_distance": 4}}
    assert "plate-does-not-enter" in codes(report("full-twisted-loop", mating={"first": plate}))
    assert "plate-does-not-enter" not in codes(report(mating={"first": plate}))


def test_pin_advice_is_marked_as_practice() -> None:
    found = report("full-twisted-loop", mating={"first": {"pin": {"diameter": 5, "length": 20}}})
    (advice,) = [f for f in found.findings if f.code == "pin-ratio"]
    assert advice.severity == "note"
    assert "common practice" in advice.message
    assert found.ok


def test_bore_and_rod_name_the_size_that_would_fit() -> None:
    found = report(mating={"around": {"bore": {"diameter": 10}, "rod": {"diameter": 9}}})
    messages = {f.code: f.message for f in found.findings}
    # the free coils clear 10.8 mm; the mesh of the spring under 30 N, whose hooks lean, 11.114
    assert "at least 11.11 mm" in messages["bore-too-narrow"]
    # drawn, coils are narrower: 8.0586 mm inside the mesh of the body, 8.4 mm without load
    assert "make it at most 8.058 mm" in messages["rod-too-thick"]


def test_a_bore_that_just_touches_cuts_nothing() -> None:
    # loaded hooks lean, and would scrape: the free spring
    found = report(mating={"around": {"bore": {"diameter": 10.8}}}, service={"loads": []})
    assert found.verdict == "fits"
    assert found.nearest is not None
    assert found.nearest[1] == "bore"
    assert found.nearest[2].distance == pytest.approx(0.0, abs=1e-9)


def test_out_of_reach_is_said_once_where_to_change_it() -> None:
    found = report(mating={"first": PIN, "over_travel": 4000}, states=4)
    (f,) = [f for f in found.findings if f.code == "beyond-straight-wire"]
    assert f.field == "mating.over_travel"
    assert [s.stop for s in found.states] == ["free", "installed", "max"]


def test_a_plain_end_holds_nothing() -> None:
    assert "no-hook" in codes(report("plain"))


def test_no_mating_is_an_error(half: Spring) -> None:
    with pytest.raises(SpecError, match="add mating parts"):
        fit(half)
    assert fit(half, Mating(), states=1).verdict == "fits"


@pytest.mark.parametrize(
    ("mating", "code"),
    [
        ({"first": {}}, "missing-alternative"),
        (
            {
                "first": {
                    **PIN,
                    "stud": {"diameter": 9, "groove_diameter": 7, "groove_width": 2, "length": 9},
                }
            },
            "two-forms",
        ),
        ({"first": {"pin": {"diameter": -1, "length": 3}}}, "length-not-positive"),
        ({"first": {"pin": {"diameter": 1, "length": 3, "direction": [0, 0, 1]}}}, "bad-direction"),
        ({"first": {"pin": {"diameter": 1, "length": 3, "direction": "along"}}}, "bad-direction"),
        (
            {"first": {"pin": {"diameter": 1, "length": 3, "direction": [0, True, 0]}}},
            "bad-direction",
        ),
        ({"first": {"pin": {"diametre": 1, "length": 3}}}, "unknown-key"),
        ({"first": {"plate": {"hole_diameter": 9, "thickness": 1, "edge_distance": 3}}}, "no-web"),
    ],
)
def test_bad_mating_is_refused(mating: dict[str, Any], code: str) -> None:
    with pytest.raises(SpecError) as refused:
        Spring.from_dict(specification(mating=mating))
    assert code in {f.code for f in refused.value.findings}


def test_a_wrong_part_is_answered_with_the_right_ones() -> None:
    with pytest.raises(SpecError, match="use one of: holding, pin, plate, stud"):
        Spring.from_dict(specification(mating={"first": {"bolt": {"diameter": 3}}}))


def test_units_are_read() -> None:
    spring = Spring.from_dict(
        specification(mating={"first": {"pin": {"diameter": "0.25 in", "length": "2 cm"}}})
    )
    mating = spring.spec.mating
    assert mating is not None
    assert mating.first is not None
    assert mating.first.pin is not None
    assert mating.first.pin.diameter == pytest.approx(6.35)
    assert mating.first.pin.length == 20


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "spring.yaml"
    file.write_text(yaml.safe_dump(specification(mating={"first": PIN})), encoding="utf-8")
    assert run(["fit", str(file), "--states", "2"]) == 0
    text = capsys.readouterr().out
    assert "first end on its pin: mouth" in text
    assert run(["fit", str(file), "--states", "2", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["schema_version"] == "springgeo-fit/1"
    assert data["states"][0]["first"]["part"] == "pin"
    assert run(["fit", "--preset", "loom-tensioner"]) == 2
    assert "mating" in capsys.readouterr().err


def test_strict_leaves_with_one(tmp_path: Path) -> None:
    file = tmp_path / "spring.yaml"
    bad = {"first": {"pin": {"diameter": 9, "length": 20}}}
    file.write_text(yaml.safe_dump(specification(mating=bad)), encoding="utf-8")
    assert run(["fit", str(file), "--states", "1", "--strict"]) == 1


def test_what_overlaps_is_told_of_the_state_with_the_least_room() -> None:
    """Whatever it is: the room that a finding is about is the finding's own."""
    plug = {"first": {"style": "threaded-plug"}, "second": {"style": "threaded-plug"}}
    pin = {"pin": {"diameter": 4.0, "length": 20.0}}
    spring = Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 6, "initial_stress": 50},
            "ends": plug,
            "service": {"loads": [6.0, 12.0]},
            "mating": {"first": pin, "second": pin, "offset": [6.0, 0.0]},
        }
    )
    found = spring.fit(states=4)
    rooms = [f.room for s in found.states for f in s.findings if f.code == "wire-in-itself"]
    least = min(r for r in rooms if r is not None)
    (told,) = [f for f in found.findings if f.code == "wire-in-itself"]
    assert told.room == least
    assert f"would lie {-least:.2g} mm deep" in told.message
    # and of what nobody thought of yet
    states = [
        s.model_copy(update={"findings": (warning("new", "mating", f"{x} mm", room=x),)})
        for s, x in zip(found.states, (-0.1, 0.0, -0.3, -0.2), strict=False)
    ]
    (kept,) = report_on("x", states).findings
    assert kept.message == "-0.3 mm"


@pytest.mark.parametrize(
    ("mating", "code"),
    [
        ({"first": {"pin": {"diameter": 5, "length": 30, "direction": [0, 1, 0.5]}}}, "body"),
        ({"around": {"bore": {"diameter": 10}}}, "bore-too-narrow"),
        ({"around": {"rod": {"diameter": 9}}}, "rod-too-thick"),
    ],
)
def test_a_finding_on_overlap_carries_its_room(mating: dict[str, Any], code: str) -> None:
    found = report(mating=mating)
    (told,) = [f for f in found.findings if code in f.code]
    assert told.room is not None
    gaps = [
        s.first.neighbour if code == "body" and s.first else s.bore or s.rod for s in found.states
    ]
    assert told.room == min(g.distance for g in gaps if g is not None)
    assert json.loads(found.json_text())["findings"][0]["room"] == told.room
