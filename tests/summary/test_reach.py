"""A state beyond what the spring holds is drawn with a warning, beyond its wire not at all."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import springgeo as sg
from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.findings import Finding
from springgeo.summary.reach import straight_length

STYLES = ("machine-half-loop", "full-twisted-loop", "raised-hook", "reduced-half-loop", "plain")


def spring(a: str = STYLES[0], b: str = STYLES[0], **service: Any) -> sg.Spring:
    return sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"index": 8, "coils": 12, "initial_stress": 100},
            "ends": {"a": {"style": a}, "b": {"style": b}},
            "service": service,
        }
    )


def margin(made: sg.Spring, load: float) -> float:
    data = made.spec.model_dump(mode="json", exclude_none=True)
    s = sg.Spring.from_dict({**data, "service": {"loads": [load]}}).summary()
    assert s.verdict is not None
    return s.verdict.margin


@settings(max_examples=20, deadline=None)
@given(st.sampled_from(STYLES), st.sampled_from(STYLES), st.floats(1.0, 2000.0), st.booleans())
def test_up_to_the_limit_no_word_above_it_how_many_times_beyond_the_wire_a_refusal(
    a: str, b: str, load: float, by_length: bool
) -> None:
    made = spring(a, b)
    line = made.load_line()
    length = line.length(load)
    if by_length and length <= line.free_length:
        return
    asked = {"length": length} if by_length else {"load": load}
    if length >= straight_length(made.model):
        with pytest.raises(SpecError, match="drawn straight") as caught:
            made.at(**asked)
        assert caught.value.findings[0].code == "beyond-straight-wire"
        return
    least = margin(made, load)
    refused: tuple[Finding, ...] = ()
    found: tuple[Finding, ...] = ()
    try:
        found = made.at(**asked).findings
    except SpecError as exc:
        refused = exc.findings
    # one plain reason, and only where the spring would long have failed
    assert all(f.code == "state-out-of-reach" for f in refused)
    assert len(refused) + len(found) == (least < 1)
    for finding in refused:
        assert f"{1 / least:.3g}"[:3] in finding.message
    for finding in found:
        assert finding.severity == "warning"
        assert f"is {1 / least:.3g}"[:6] in finding.message


def test_the_wire_is_as_long_as_it_is() -> None:
    made = spring()
    g = made.model.geometry
    assert g.length < straight_length(made.model) < g.path.length + 1.2


@pytest.mark.parametrize("service", [{"loads": [1e4]}, {"lengths": [2000]}])
def test_a_working_point_beyond_the_wire_is_refused(service: dict[str, Any]) -> None:
    with pytest.raises(SpecError, match="drawn straight") as caught:
        spring(**service).summary()
    assert caught.value.findings[0].field == "service"


def test_overstressed_working_points_say_how_many_times() -> None:
    found = [f for f in spring(loads=[90]).summary().findings if f.code == "overstressed"]
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
        "ends": {"a": {"style": "full-twisted-loop"}, "b": {"style": "full-twisted-loop"}},
        "service": {"loads": [50.0]},
    }
    made = sg.Spring.from_dict(data)
    state = made.at(length=made.free_length)
    assert state.load == 0
    assert state.findings == ()
