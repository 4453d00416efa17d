"""Length inside hooks runs from contact to contact, as between pins: in every output the same."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo.cli import table
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Sheet
from springgeo.drawing.sheet import sheets
from springgeo.fit import mechanism
from springgeo.handover.table import LoadTable
from springgeo.state import State

CASES: dict[str, dict[str, Any]] = {
    "mixed": {"first": "full-loop-at-side", "second": "machine-half-loop"},
    "square": {"first": "full-loop-at-side", "second": "full-loop-at-side", "facing": 90},
    "opposite": {"first": "hook-at-side", "second": "hook-at-side", "facing": 0},
    "in line": {"first": "machine-half-loop", "second": "machine-half-loop"},
}
D = 1.0


@cache
def spring(case: str) -> sg.Spring:
    return sg.Spring.from_dict(
        {
            "name": "askew",
            "wire": {"diameter": D},
            "body": {"mean_diameter": 8, "coils": 6.3, "initial_stress": 60},
            "ends": CASES[case],
            "service": {"loads": [15.0], "lengths": [27.0]},
        }
    )


def apart(state: State) -> float:
    """Return how far the contacts are apart inside the hooks, off the wire, mm."""
    a, b = state.centreline.point(np.array(state.geometry.contact_s))
    return float(np.linalg.norm(b - a)) - D


@pytest.mark.parametrize("case", CASES)
def test_a_state_is_as_long_as_its_contacts_are_apart(case: str) -> None:
    made = spring(case)
    assert made.free_length == pytest.approx(apart(made.free), rel=1e-12)
    for state in (made.at(load=3.0), made.at(load=15.0), made.at(length=27.0)):
        assert state.length == pytest.approx(apart(state), abs=1e-5)
        a, b = state.geometry.contacts
        assert float(np.linalg.norm(b - a)) == pytest.approx(state.length, abs=1e-5)


@pytest.mark.parametrize("case", CASES)
def test_every_output_has_the_same_free_length(case: str, tmp_path: Path) -> None:
    made = spring(case)
    s, free = made.summary(), made.free_length
    lengths = [
        made.model.geometry.length,
        made.load_curve.free_length,
        made.free.length,
        s.geometry.free_length,
        s.free_length.model,
        s.load_line.curve[0].length,
        s.load_line.handbook[0].length,
        float(LoadTable.of(made.load_curve, 15.0).length[0]),
        *(p.length - p.deflection for p in (*s.points, *s.along_the_wire.points)),
    ]
    assert lengths == pytest.approx([free] * len(lengths), rel=1e-12)
    told = made.shown.length(free, 4)
    assert told in made._repr_html_()
    (row,) = [x for x in table.report(s) if x.strip().startswith("free length inside hooks")]
    assert f"{free:.4g}" in row or f"{free:.5g}" in row
    (sheet,) = [r for r in data_rows(Sheet(made.model, s, "metric")) if r.symbol == "L0"]
    assert f"{free:.4g}" in str(sheet) or f"{free:.2f}" in str(sheet)
    written = made.curve(tmp_path / "curve.json")
    assert written
    assert json.loads((tmp_path / "curve.json").read_text())["free_length"] == free


@pytest.mark.parametrize("case", CASES)
def test_pins_of_a_mechanism_bear_what_the_state_between_them_bears(case: str) -> None:
    """A slide draws the pins apart; the state whose hooks stand as far apart has the load."""
    made, pin = spring(case), 3.0
    state = made.at(load=12.0)
    # pins in hooks, their middles nearer than the contacts
    middles = apart(state) - pin
    motion = mechanism.run(
        made.load_curve,
        (0.0, 0.0),
        mechanism.Slide((made.free_length - pin - 0.1, 0.0), (middles, 0.0)),
        pins=(pin, pin),
        stations=2,
    )
    assert motion.load.tolist() == pytest.approx([0.0, 12.0], rel=1e-5)
    assert motion.slack.tolist() == [True, False]


@pytest.mark.parametrize("case", CASES)
def test_a_given_length_is_the_one_between_pins(case: str) -> None:
    made = spring(case)
    (point,) = [p for p in made.summary().points if p.length == 27.0]
    state = made.at(load=point.load)
    assert apart(state) == pytest.approx(27.0, abs=1e-5)
    stops = made.fit(sg.fit.Mating(over_travel=1.0), states=1).states
    (far,) = [x for x in stops if x.stop == "max"]
    assert far.length == pytest.approx(27.0, abs=1e-6)
    assert far.load == pytest.approx(point.load, rel=1e-6)


@pytest.mark.parametrize("case", CASES)
def test_the_sheet_dimensions_what_lies_along_the_axis(case: str) -> None:
    """L0 that runs askew stands in the table; hooks and body add up along the axis."""
    made = spring(case)
    s = made.summary()
    g = s.geometry
    whole = g.hook_length_first + g.body_length + g.hook_length_second
    assert g.height == pytest.approx(whole, rel=1e-12)
    dims = {d.key: d for d in sheets(made.model, s)[0].linear}
    if case == "in line":
        assert g.free_length == g.height
        assert dims["geometry.free_length"].value == pytest.approx(g.free_length, rel=1e-12)
        return
    assert g.free_length > g.height + 0.3
    assert "geometry.free_length" not in dims
    assert dims["geometry.height"].value == pytest.approx(g.height, rel=1e-12)
