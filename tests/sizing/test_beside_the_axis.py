"""Loops at the side among the ends: found where their curve allows it, and no bar to others."""

from __future__ import annotations

import pytest

from springgeo.api import Spring
from springgeo.sizing import job_of, size
from springgeo.sizing.size import TRIES, _in_turn


def test_a_loop_at_the_side_meets_both_points_on_its_curve() -> None:
    job = {
        "name": "side",
        "points": [{"length": 70, "load": 10}, {"length": 90, "load": 30}],
        "envelope": {"outer_diameter": 16},
        "initial_tension": "any",
        "choice": {
            "materials": ["en-10270-1-sh"],
            "wire_sizes": [1.2],
            "ends": ["full-loop-at-side"],
        },
    }
    (found,) = size(job_of(job), top=1).winners
    curve = Spring.from_dict(found.specification).load_curve
    for length, load in ((70, 10), (90, 30)):
        assert curve.load(length) == pytest.approx(load, rel=1e-5)


def test_ends_whose_coils_part_late_do_not_keep_others_out() -> None:
    """The first point lies so low that loops at the side would still touch there."""
    job = {
        "name": "tray return",
        "points": [
            {"length": "2.1 in", "load": "1.5 lbf"},
            {"length": "2.6 in", "load": "4 lbf"},
        ],
        "envelope": {"outer_diameter": "0.5 in"},
        "choice": {
            "materials": ["astm-a228"],
            "wire_sizes": [0.75, 1.2],
            "ends": ["full-loop-at-side", "full-twisted-loop"],
        },
    }
    result = size(job_of(job), top=1)
    assert [w.specification["ends"]["first"]["style"] for w in result.winners] == [
        "full-twisted-loop"
    ]


def test_ends_of_which_none_holds_come_last() -> None:
    job = {
        "name": "order",
        "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
        "method": "handbook",
        "choice": {
            "materials": ["astm-a228"],
            "series": ["en-iso"],
            "ends": ["machine-half-loop", "full-twisted-loop"],
        },
    }
    found = size(job_of(job), top=1).found
    usual = [place.ends for place, _ in _in_turn(found, {}, ())]
    first = usual[0]
    put_off = [place.ends for place, _ in _in_turn(found, {first: TRIES}, ())]
    assert sorted(put_off) == sorted(usual)
    assert len(set(usual)) == 2
    assert put_off == sorted(put_off, key=lambda ends: ends == first)
    # but not once one of them held
    kept = [place.ends for place, _ in _in_turn(found, {first: 9 * TRIES}, {first})]
    assert kept == usual


@pytest.mark.parametrize("second", ["full-loop-at-side", "v-hook"])
def test_by_the_handbook_a_loop_at_the_side_comes_to_its_loads(second: str) -> None:
    """Contacts out of line lie further apart than along the axis: loads were 2 to 7 % off."""
    job = {
        "points": [{"length": 177, "load": 234.7}, {"length": 180, "load": 248.9}],
        "choice": {
            "materials": ["astm-a232"],
            "wire_sizes": [4.0],
            "ends": list(dict.fromkeys(["full-loop-at-side", second])),
            "mixed_ends": True,
        },
        "method": "handbook",
        "initial_tension": "any",
        "least": {"body": 0.5, "hook_bending": 0.5, "hook_torsion": 0.5},
        "objectives": ["mass"],
    }
    result = size(job_of(job), 3)
    assert not any("load" in text for text in result.turned_away)
    ends = [{x["style"] for x in w.specification["ends"].values()} for w in result.winners]
    assert {"full-loop-at-side", second} in ends
    for w in result.winners:
        assert w.loads == pytest.approx((234.7, 248.9), rel=1e-5)
