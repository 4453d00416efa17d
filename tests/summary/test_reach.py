"""A state beyond what the spring holds is drawn with a warning, beyond its wire not at all."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import springgeo as sg
from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.summary.handbook import Handbook
from springgeo.summary.verdict import weakest
from springgeo.summary.wire import AlongWire
from tests.springs import asked

pytestmark = pytest.mark.usefixtures("presets_kept")

STYLES = ("machine-half-loop", "full-twisted-loop", "raised-hook", "reduced-half-loop", "plain")


def spring(a: str = STYLES[0], b: str = STYLES[0], **service: Any) -> sg.Spring:
    return sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"index": 8, "coils": 12, "initial_stress": 100},
            "ends": {"first": {"style": a}, "second": {"style": b}},
            "service": service,
        }
    )


def margin(made: sg.Spring, load: float) -> float:
    """Return the least margin; a load has one even where no length goes with it."""
    wire = AlongWire(Handbook(made.model))
    least = weakest(wire.book.point(load, made.free_length), wire.stressed(load))
    assert least is not None
    return least.margin


ANY = given(st.sampled_from(STYLES), st.sampled_from(STYLES), st.floats(1.0, 2000.0), st.booleans())


@settings(max_examples=5, deadline=None)
@ANY
def test_up_to_the_limit_no_word_above_it_how_many_times_beyond_the_wire_a_refusal(
    a: str, b: str, load: float, by_length: bool
) -> None:
    require_words(a, b, load, by_length)


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@ANY
def test_many_of_them(a: str, b: str, load: float, by_length: bool) -> None:
    require_words(a, b, load, by_length)


def require_words(a: str, b: str, load: float, by_length: bool) -> None:
    """Assert what a state at a load is accompanied by, or refused with."""
    made = spring(a, b)
    curve, least = made.load_curve, margin(made, load)
    times = f"N is {1 / least:.3g}"[:8]
    try:
        length = curve.length(load)
    except SpecError:
        # no length goes with the load: one plain reason, and only where it long would have failed
        assert least < 1
        with pytest.raises(SpecError) as caught:
            made.at(load=load)
        (refused,) = caught.value.findings
        # a coil of radius R pulls with G J/R² sin α at the lead angle α (a helix's equilibrium)
        D, G = asked(made).geometry.mean_diameter, asked(made).material.shear_modulus
        d = made.model.body.wire_diameter
        straight = load > 0.8 * G * math.pi * d**4 / 8 / D**2
        assert refused.code == ("beyond-straight-wire" if straight else "no-equilibrium")
        assert ("drawn straight" in refused.message) == straight
        assert times in refused.message
        return
    assert length <= curve.longest
    found = made.at(**({"length": length} if by_length else {"load": load})).findings
    assert len(found) == (least < 1)
    for finding in found:
        assert finding.severity == "warning"
        assert f"is {1 / least:.3g}"[:6] in finding.message


def test_the_longest_is_short_of_the_wire() -> None:
    made = spring()
    g = made.model.geometry
    assert g.length < made.load_curve.longest < g.path.length + 1.2
    with pytest.raises(SpecError, match="drawn straight") as caught:
        made.at(length=g.path.length)
    assert "times" not in str(caught.value)


@pytest.mark.parametrize(
    ("service", "field"),
    [({"loads": [1e4]}, "service"), ({"lengths": [2000]}, "service.lengths")],
)
def test_a_working_point_beyond_the_wire_is_refused(service: dict[str, Any], field: str) -> None:
    with pytest.raises(SpecError, match="drawn straight") as caught:
        spring(**service).summary()
    assert caught.value.findings[0].field == field


def test_overstressed_working_points_say_how_many_times() -> None:
    found = [f for f in asked(spring(loads=[90])).findings if f.code == "overstressed"]
    assert found
    assert all("times what it holds" in f.message for f in found)


def test_commands_warn_of_the_state(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    args = ["build", "--preset", "gate-latch", "-o", str(tmp_path), "--format", "stl"]
    assert run([*args, "--state", "60N"]) == 0
    assert "60 N is 1.3" in capsys.readouterr().err
    assert run([*args, "--state", "9000N"]) == 2
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert "drawn straight" in err


def test_an_open_wound_spring_has_a_free_state_without_load() -> None:
    data = {
        "wire": {"material": "astm-a228", "diameter": 2.0},
        "body": {"index": 6, "coils": 3, "gap": 3.0},
        "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "full-twisted-loop"}},
        "service": {"loads": [50.0]},
    }
    made = sg.Spring.from_dict(data)
    state = made.at(length=made.free_length)
    assert state.load == 0
    assert state.findings == ()
