"""Stops of a mounted spring: where it bears its loads, and the last one where it still holds."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from springgeo.cli.main import run
from springgeo.fit import Mating, fit, safe_length
from springgeo.summary.mounting import WireMounted
from tests.mounted import ASIDE, FREE, gate
from tests.springs import asked


@pytest.mark.parametrize("styles", [(), ("hook-at-side", "english-loop")])
@pytest.mark.parametrize("mating", [ASIDE, FREE], ids=["held", "free"])
@pytest.mark.parametrize("given", [True, False], ids=["in-the-file", "to-fit"])
def test_a_stop_at_a_load_is_where_the_mounted_spring_bears_it(
    styles: tuple[str, ...], mating: dict[str, Any], given: bool
) -> None:
    made = gate({"loads": [4.0, 25.0]}, mating if given else None, *styles)
    asked_for = None if given else Mating.model_validate(mating)
    found = fit(made, asked_for, states=1)
    at = {s.stop: s for s in found.states}
    assert at["installed"].load == pytest.approx(4.0, rel=1e-9)
    assert at["max"].load == pytest.approx(25.0, rel=1e-9)
    # far from where the straight pull has them
    assert abs(at["max"].length - made.load_curve.length(25.0)) > 1e-3
    if given:
        # the same number in the summary
        assert [p.length for p in asked(made).mounted] == pytest.approx(
            [at["installed"].length, at["max"].length], rel=1e-9
        )


def test_a_given_length_stays_and_a_load_comes_beside_it() -> None:
    found = fit(gate({"loads": [25.0], "lengths": [46.0]}, ASIDE), states=1)
    at = {s.stop: s for s in found.states}
    assert at["max"].length == pytest.approx(46.0, rel=1e-9)
    assert at["installed"].load == pytest.approx(25.0, rel=1e-9)


@pytest.mark.parametrize("styles", [(), ("hook-at-side", "english-loop")])
def test_the_travel_stop_as_mounted_has_used_up_an_allowable(styles: tuple[str, ...]) -> None:
    made = gate({"loads": [10.0]}, ASIDE, *styles)
    pull = asked(made).pull
    assert pull.mounted is not None
    assert pull.mounted.load < pull.travel_stop_load - 1.0
    (state,) = made.mounted(lengths=[pull.mounted.length])
    assert isinstance(state.wire, WireMounted)
    margins = state.wire.stressed(state.load).margin.model_dump().values()
    assert min(m for m in margins if m is not None) == pytest.approx(1.0, rel=1e-6)
    for stop in (made.travel_stop(), safe_length(made, made.spec.mating)):
        assert stop == pytest.approx(pull.mounted.length, rel=1e-9)
    assert made.fit(states=1).safe_length == pytest.approx(pull.mounted.length, rel=1e-9)
    # a spring without the section, and the section given to it
    bare = gate({"loads": [10.0]}, None, *styles)
    assert bare.travel_stop() == asked(bare).pull.travel_stop
    assert asked(bare).pull.mounted is None
    mating = Mating.model_validate(ASIDE)
    assert fit(bare, mating, states=1).safe_length == pytest.approx(pull.mounted.length, rel=1e-6)
    # what moves in a mechanism is the straight pull
    assert safe_length(bare) == asked(bare).pull.travel_stop


@pytest.mark.parametrize(("load", "holds"), [(37.0, True), (37.8, False)])
def test_the_fit_warns_of_the_stroke_just_where_the_verdict_fails(load: float, holds: bool) -> None:
    made = gate({"loads": [10.0, load]}, ASIDE)
    verdict = asked(made).verdict
    assert verdict is not None
    assert (verdict.outcome == "holds") is holds
    codes = [f.code for f in made.fit(states=1).findings]
    assert ("over-travel-unsafe" not in codes) is holds


def test_no_load_is_held_by_a_spring_that_is_mounted_far_out_of_line() -> None:
    """Pins 45 mm aside of each other bend a spring that is 28 mm long beyond its allowable."""
    far = {**ASIDE, "offset": [45.0, 0.0]}
    pull = asked(gate({"loads": [20.0]}, far)).pull
    assert pull.mounted is not None
    assert pull.mounted.load == 0.0
    assert pull.mounted.length == pytest.approx(27.636, abs=1e-3)


def test_the_terminal_tells_both_travel_stops(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "gate.yaml"
    made = gate({"loads": [10.0]}, ASIDE)
    file.write_text(made.specification_text, encoding="utf-8")
    assert run(["check", str(file)]) == 0
    lines = capsys.readouterr().out.splitlines()
    mounted = asked(made).pull.mounted
    assert mounted is not None
    (told,) = [x for x in lines if x.startswith("travel stop as mounted: at ")]
    assert f"({mounted.load:.4g} N)" in told or f"{mounted.load:.3g}" in told
    assert sum(x.startswith("travel stop: at ") for x in lines) == 1
