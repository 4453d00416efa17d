from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from springgeo.errors import SpecError
from springgeo.sizing import job_of, read_job
from springgeo.sizing.job.quantity import parse_product

TWO = [{"length": 60, "load": 15}, {"length": 75, "load": 30}]
JOBS = sorted((Path(__file__).parents[2] / "presets" / "jobs").glob("*.yaml"))


@pytest.mark.parametrize("path", JOBS, ids=lambda p: p.stem)
def test_presets_are_jobs(path: Path) -> None:
    assert read_job(path).lines


def test_two_points_give_their_own_line() -> None:
    (line,) = job_of({"points": TWO}).lines
    assert line == pytest.approx((1.0, 60, 15, 75, 30), rel=1e-12)


def test_more_points_are_weighed_by_their_tolerances() -> None:
    """Least squares of errors over tolerances, by numpy's own fit."""
    rows = [(60, 15.2, 1.5), (66, 20.9, 0.3), (70, 25.1, 0.5), (75, 29.8, 3.0)]
    points = [{"length": x, "load": F, "tolerance": f"{t} N"} for x, F, t in rows]
    (line,) = job_of({"points": points}).lines
    length, load, tolerance = np.array(rows).T
    slope, start = np.polyfit(length, load, 1, w=1 / tolerance)
    assert line == pytest.approx((slope, 60, start + 60 * slope, 75, start + 75 * slope), rel=1e-9)


def test_installed_load_rate_and_travel() -> None:
    need = {"length": "60 mm", "load": "15 N", "rate": "1 N/mm", "travel": "15 mm"}
    assert job_of({"installed": need}).lines == job_of({"points": TWO}).lines


def test_energy_is_mean_load_times_travel() -> None:
    lines = job_of({"energy": {"lengths": [60, 75], "energy": "0.3375 J"}}).lines
    assert len(lines) > 5
    for line in lines:
        assert pytest.approx(337.5) == (line.F_1 + line.F_2) / 2 * 15
        assert line.k > 0


def test_lever_by_virtual_work() -> None:
    lever = {
        "arm": 30,
        "base": 50,
        "angles": ["60 deg", "61 deg"],
        "pin_diameters": [4, 6],
        "torques": ["1 N m", "1 N m"],
        "tolerance": "50 %",
    }
    (line,) = job_of({"lever": lever}).lines
    # work over a degree: torque times angle equals mean load times the lengthening
    work = (line.F_1 + line.F_2) / 2 * (line.L_2 - line.L_1)
    assert work == pytest.approx(1000 * math.radians(1), rel=1e-3)
    assert pytest.approx(math.sqrt(30**2 + 50**2 - 1500) + 5) == line.L_1


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"points": None}, "missing-alternative"),
        ({"points": TWO[:1]}, "points-too-few"),
        ({"points": [TWO[1], {"length": 60, "load": 40}]}, "points-falling"),
        ({"points": [*TWO, {"length": 90, "load": 80}]}, "points-not-on-a-line"),
        ({"choice": {"materials": ["musik-wire"]}}, "unknown-material"),
        ({"choice": {"ends": ["full-twisted-lop"]}}, "unknown-end-style"),
        ({"choice": {"series": ["en"]}}, "unknown-size-series"),
        ({"choice": {"index": [12, 8]}}, "index-range"),
        ({"service": {"duty": "cyclic"}}, "cycles"),
        ({"weights": {"cost": 1}}, "weight-without-objective"),
        ({"objectives": ["mass", "mass"]}, "objective-twice"),
        ({"objectives": ["beauty"]}, "unknown-choice"),
        ({"envelop": {}}, "unknown-key"),
        ({"points": [{"length": 1e300, "load": 15}, TWO[1]]}, "length-too-large"),
        ({"points": [{"length": float("nan"), "load": 15}, TWO[1]]}, "bad-value"),
        ({"points": [{"length": 60, "load": 15, "tolerance": "200 %"}, TWO[1]]}, "bad-value"),
        ({"use_tolerance": 3}, "bad-value"),
    ],
)
def test_refusals_have_a_code(change: dict[str, object], code: str) -> None:
    with pytest.raises(SpecError) as caught:
        job_of({k: v for k, v in ({"points": TWO} | change).items() if v is not None})
    assert code in [f.code for f in caught.value.findings]


def test_loads_that_fall_are_told_as_they_follow_from_what_was_given() -> None:
    lever = {"arm": 30, "base": 50, "angles": ["90 deg", "100 deg"], "torques": [900, 600]}
    with pytest.raises(SpecError, match=r"from 34.99 N at 58.31 mm to 25.43 N at 62.62 mm"):
        job_of({"lever": lever})


def test_products() -> None:
    assert parse_product("1.2 N m") == parse_product("1.2 J") == 1200
    assert parse_product("2 lbf·in") == pytest.approx(2 * 4.4482216 * 25.4)
    with pytest.raises(ValueError, match="N m"):
        parse_product("3 N/m")


def test_what_is_no_length_of_an_end_follows_nothing() -> None:
    """Three coils on a plug are three, whatever the wire: they were taken for three diameters."""
    plug = {"style": "threaded-plug", "coils": 3, "stud_length": "4 d"}
    job = job_of({"points": TWO, "choice": {"ends": [plug]}})
    ((first, _),) = job.end_pairs
    assert first.parameters(2.0, 8.0) == {"coils": 3.0, "stud_length": 8.0}
    assert first.written() == plug
    assert str(first) == "threaded-plug, coils 3, stud_length 4 d"
    for wrong in ({"coils": "3 d"}, {"stud_length": 4}):
        with pytest.raises(SpecError) as caught:
            job_of({"points": TWO, "choice": {"ends": [plug | wrong]}})
        assert [f.code for f in caught.value.findings] == ["bad-proportion"]


@pytest.mark.parametrize("load", [None, 3.0])
def test_a_line_of_an_energy_holds_it_between_its_lengths(load: float | None) -> None:
    # work of a straight load line: its mean load times the travel
    asked = {"lengths": [60, 75], "energy": 150} | ({} if load is None else {"load": load})
    for line in job_of({"energy": asked}).lines:
        mean = (line.F_1 + line.F_2) / 2
        assert mean * 15 == pytest.approx(150)
        assert line.F_1 + line.k * 15 == pytest.approx(line.F_2)
        assert load is None or load == line.F_1
