"""The report over the stroke: verdict, overlaps, refusals, JSON, command."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
import yaml

from springgeo import SpecError, Spring
from springgeo.cli.main import run
from springgeo.findings import warning
from springgeo.fit import Mating, fit
from springgeo.fit.stroke import report as report_on
from tests.fit.conftest import specification
from tests.fit.reports import PIN, report

pytestmark = pytest.mark.usefixtures("presets_kept")


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
    # of a pin how much thinner it must be, else how deep the part runs
    rooms = [
        s.first.largest - 5 if s.first and s.first.largest else (s.bore or s.rod).distance
        for s in found.states
    ]
    assert told.room == min(rooms)
    assert json.loads(found.json_text())["findings"][0]["room"] == told.room
