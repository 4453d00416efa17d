"""Lengths at which a spring is slack pulled straight, and taut between pins that stand aside."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

import springgeo as sg
from springgeo.cli.main import run
from springgeo.drawing.diagram import points_drawn
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Sheet
from springgeo.fit import Mating, fit
from springgeo.making.inspection import inspection
from tests.springs import asked, made

PIN = {"pin": {"diameter": 5.0, "length": 12.0}}
ASIDE = 8.0
FREE = made(
    {
        "wire": {"material": "astm-a228", "diameter": 1.2},
        "body": {"mean_diameter": 9.6, "coils": 18.5, "initial_tension": 7},
        "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "machine-half-loop"}},
    }
).free_length
SHORT, LONG = FREE - 0.5, FREE + 12.0


def spring(service: dict[str, Any], **mating: Any) -> sg.Spring:
    """Return a spring 37 mm long, its second pin 8 mm aside."""
    return made(
        {
            "name": "aside",
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 18.5, "initial_tension": 7},
            "ends": {
                "first": {"style": "full-twisted-loop"},
                "second": {"style": "machine-half-loop"},
            },
            "service": service,
            "mating": {"first": PIN, "second": PIN, "offset": [ASIDE, 0.0], **mating},
        }
    )


def straight_of(length: float) -> float:
    """Return the load along the line of a spring that turns freely on both pins, N."""
    # the pull acts through the middle of the wire, which lies d/2 beyond either contact
    along = length + 1.2
    between = math.hypot(along, ASIDE)
    return float(spring({}).load_curve.load(between - 1.2)) * along / between


def test_a_length_below_the_free_one_is_answered_as_mounted() -> None:
    s = asked(spring({"lengths": [LONG, SHORT]}))
    assert [p.length for p in s.points] == [SHORT, LONG]
    # pulled straight it is slack there
    assert s.points[0].load == 0.0
    assert s.points[0].deflection == pytest.approx(-0.5)
    assert [p.length for p in s.mounted] == [SHORT, LONG]
    # its hooks turn on the pins: the load is that of the distance between them
    assert [p.load for p in s.mounted] == pytest.approx(
        [straight_of(SHORT), straight_of(LONG)], rel=1e-4
    )
    assert len(s.lean) == 2
    assert [x > 0 for x in s.pins.first.side_force] == [True, True]


def test_at_the_free_length_too() -> None:
    s = asked(spring({"lengths": [FREE]}))
    (there,) = s.mounted
    assert there.load == pytest.approx(straight_of(FREE), rel=1e-4)
    assert s.verdict is not None


def test_a_spring_slack_pulled_straight_is_judged_as_mounted() -> None:
    s = asked(spring({"lengths": [SHORT]}))
    assert s.verdict is not None
    assert s.verdict.as_mounted
    assert s.verdict.load == s.mounted[0].load > 0


@pytest.mark.parametrize("length", [FREE - 1.0, FREE - 5.0])
def test_what_is_slack_between_its_pins_is_refused(length: float) -> None:
    # the pins are 8 mm aside, and nearer than the spring is long
    assert math.hypot(length, ASIDE) < FREE
    refused = spring({"lengths": [length, LONG]})
    with pytest.raises(sg.SpecError) as found:
        refused.summary()
    (f,) = found.value.findings
    assert (f.code, f.field) == ("length-below-free", "service.lengths")
    least = math.sqrt((FREE + 1.2) ** 2 - ASIDE**2) - 1.2
    assert f"{least:.1f}" in f.message
    assert "give a longer one" in f.message
    codes = [f.code for f in refused.fit(states=2).findings]
    assert codes == ["mounted-below-free"]


def test_pins_in_line_leave_it_slack() -> None:
    straight = spring({"lengths": [SHORT]}, offset=[0.0, 0.0])
    with pytest.raises(sg.SpecError, match="below the free length"):
        straight.summary()


@pytest.mark.parametrize("given", [True, False], ids=["in-the-file", "to-fit"])
def test_the_fit_is_that_of_the_stroke(given: bool) -> None:
    aside = spring({"lengths": [SHORT, LONG]})
    mating = None if given else Mating.model_validate({"first": PIN, "offset": [ASIDE, 0.0]})
    found = fit(aside, mating, states=3)
    at = {s.stop: s for s in found.states}
    assert found.states[0].stop == "installed"
    assert at["installed"].length == pytest.approx(SHORT, abs=1e-9)
    assert at["installed"].load == pytest.approx(asked(aside).mounted[0].load, rel=1e-9)


def test_states_by_name_are_the_summary_s() -> None:
    aside = spring({"lengths": [SHORT, LONG]})
    (state,) = aside.named_states([f"{SHORT!r}mm"])
    assert state.load == pytest.approx(asked(aside).mounted[0].load, rel=1e-9)
    assert state.length == pytest.approx(SHORT, abs=1e-9)
    with pytest.raises(sg.SpecError, match="taut as it is mounted"):
        aside.named_states([f"{FREE - 5.0!r}mm"])


def test_ranges_of_a_spectrum_are_those_between_the_pins() -> None:
    spectrum = [{"lengths": [SHORT, LONG], "count": 1e4}, {"lengths": [SHORT, FREE], "count": 1e5}]
    s = asked(spring({"duty": "cyclic", "spectrum": spectrum}))
    assert s.fatigue is not None
    assert [p.length for p in s.points] == [SHORT, LONG]
    once = asked(spring({"duty": "cyclic", "cycles": 1e4, "lengths": [SHORT, LONG]})).fatigue
    assert once is not None
    # the longer range decides; the shorter one, between two loads as mounted, hardly tires it
    for name, place in s.fatigue.mounted.items():
        assert place.alternating == pytest.approx(once.mounted[name].alternating, rel=1e-6)


def test_sheet_note_and_inspection_say_it_in_one_way(tmp_path: Path) -> None:
    aside = spring({"lengths": [SHORT, LONG]})
    s = aside.summary()
    assert [k for k, _ in points_drawn(s)] == [2]
    load = aside.shown.quantity(sg.text.quantity.force(s.mounted[0].load, unit=False))
    words = "as mounted, slack pulled straight"
    spec = tmp_path / "aside.yaml"
    spec.write_text(aside.specification_text, encoding="utf-8")
    assert run(["note", str(spec), "-o", str(tmp_path / "note.md")]) == 0
    (row,) = [x for x in (tmp_path / "note.md").read_text().splitlines() if words in x]
    assert load in row
    sheet = data_rows(Sheet(aside.model, s, "metric"))
    rows = [r.value for r in sheet if words in r.value]
    assert [load in row for row in rows] == [True]
    # a load tester pulls straight
    checks = inspection(aside.model, s, "metric")
    loads = [c.symbol for c in checks if c.symbol.startswith("F")]
    assert loads == ["F0", "F2"]
