"""No load and the least loads: nothing divides by them, and no number leaves the numbers."""

from __future__ import annotations

import json
from typing import Any

import pytest

from springgeo import plots
from springgeo.api import Spring
from springgeo.drawing import drawing_files
from springgeo.errors import SpecError
from tests.gate import thinned
from tests.springs import asked

OPEN = {"index": 8, "coils": 10, "pitch": 1.6}
SOLID = {"index": 8, "coils": 10, "initial_tension": 5}


def spring(body: dict[str, Any], loads: list[float], **service: Any) -> Spring:
    ends = {"a": "machine-half-loop", "b": "v-hook"}
    service |= {"loads": loads}
    return Spring.from_dict(
        {"wire": {"diameter": 1}, "body": body, "ends": ends, "service": service}
    )


@pytest.mark.parametrize(
    ("body", "loads", "service"),
    thinned(
        4,
        [OPEN, SOLID],
        [[0], [0, 0], [1e-6], [0, 1e-6], [0, 12], [1], [1e-6, 4.9]],
        [{}, {"duty": "cyclic", "cycles": 1e6}, {"duty": "infinite"}],
    ),
)
def test_summary_sheet_and_plots(
    body: dict[str, Any], loads: list[float], service: dict[str, Any]
) -> None:
    s = spring(body, loads, **service)
    text = s.summary().json_text()  # refuses numbers that are none
    assert json.loads(text)["points"][0]["load"] == loads[0]
    assert drawing_files(s.model, s.summary(), "svg")[0].startswith(b"<?xml")
    plots.load_length(s)
    for state in (s.at(load=loads[0]), s.at(load=0)):
        assert state.length >= s.free_length


def test_without_load_an_open_body_is_not_stressed() -> None:
    point = asked(spring(OPEN, [0])).along_the_wire.points[0]
    assert (point.governing, point.place, point.body_shear) == ("none", None, 0.0)
    assert point.margin.body_shear is None


@pytest.mark.parametrize("load", [1e-308, 5e-324, 1e-9, "1e-300 N", -0.1])
def test_loads_that_nobody_weighs_are_refused(load: object) -> None:
    with pytest.raises(SpecError, match=r"service\.loads: .* is below the limit"):
        spring(SOLID, [load])  # type: ignore[list-item]


def test_the_sheet_holds_the_initial_tension_above_the_loads() -> None:
    """The diagram's highest mark is then F0 and not a load; nothing leaves its box."""
    from springgeo.drawing.sheet import sheet

    s = spring(SOLID, [1])
    page = sheet(s.model, s.summary(), "A4")
    lines = [line for line in page.lines if line.layer == "DIAGRAM"]
    top = max(y for line in lines for _, y in line.points)
    other = spring(SOLID, [9])
    without = sheet(other.model, other.summary(), "A4")
    same = [line for line in without.lines if line.layer == "DIAGRAM"]
    assert top <= max(y for line in same for _, y in line.points) + 1e-6
