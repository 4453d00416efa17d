"""Pins, plates, studs, bores and rods: what does not fit, and what to change."""

from __future__ import annotations

import json
from typing import Any

import pytest

from springgeo import Spring
from springgeo.fit import FitReport, Mating, fit
from springgeo.text.figures import outward
from tests.fit.reports import PIN, codes, made, report

pytestmark = pytest.mark.usefixtures("presets_kept")


def test_pin_larger_than_the_loop() -> None:
    found = report(mating={"first": {"pin": {"diameter": 9, "length": 20}}})
    (message,) = [f.message for f in found.findings if f.code == "pin-larger-than-loop"]
    assert "9 mm" in message
    end = found.states[0].first
    assert end is not None
    assert end.largest is not None
    told = outward(end.largest, 4, up=False)
    assert f"make it at most {told:g} mm" in message
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
    spring = made("machine-half-loop", json.dumps({"service": {"loads": [10, 45]}}))
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
    assert "at least 11.12 mm" in messages["bore-too-narrow"]
    # drawn, coils are narrower: 8.0586 mm inside the mesh of the body, 8.4 mm without load
    assert "make it at most 8.058 mm" in messages["rod-too-thick"]


def test_a_bore_that_just_touches_cuts_nothing() -> None:
    # loaded hooks lean, and would scrape: the free spring
    found = report(mating={"around": {"bore": {"diameter": 10.8}}}, service={"loads": []})
    assert found.verdict == "fits"
    assert found.nearest is not None
    assert found.nearest[1] == "bore"
    assert found.nearest[2].distance == pytest.approx(0.0, abs=1e-9)


def test_a_plain_end_holds_nothing() -> None:
    assert "no-hook" in codes(report("plain"))
