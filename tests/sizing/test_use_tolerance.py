from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.sizing import job_of, size
from springgeo.sizing.search.search import search

JOB: dict[str, Any] = {
    "points": [
        {"length": 60, "load": 15, "tolerance": "10 %"},
        {"length": 75, "load": 30, "tolerance": "10 %"},
    ],
    "choice": {"ends": ["raised-hook", "machine-half-loop"], "materials": ["astm-a228"]},
    "method": "handbook",
    "least": {"body": 1.1, "hook_bending": 1.1, "hook_torsion": 1.1},
}
TOO_NARROW = JOB | {"envelope": {"outer_diameter": 6.2}}


def test_lines_are_the_corners_of_the_share() -> None:
    lines = job_of(JOB | {"use_tolerance": "50 %"}).lines
    assert len(lines) == 9
    assert lines[0] == job_of(JOB).lines[0]
    assert {round(line.F_1, 9) for line in lines} == {14.25, 15, 15.75}
    assert {round(line.F_2, 9) for line in lines} == {28.5, 30, 31.5}
    for line in lines:
        assert line.load(75) == pytest.approx(line.F_2)


def test_points_between_keep_within_their_own_tolerance() -> None:
    points = [*JOB["points"], {"length": 67.5, "load": 22.5, "tolerance": "1 %"}]
    lines = job_of(JOB | {"points": points, "use_tolerance": 1}).lines
    assert len(lines) > 1
    for line in lines:
        assert abs(line.load(67.5) - 22.5) <= 0.225 * (1 + 1e-6)


def test_a_tolerance_may_be_a_force() -> None:
    points = [{"length": 60, "load": "3 lbf", "tolerance": "0.3 lbf"}, {"length": 75, "load": 30}]
    assert [p.tolerance for p in job_of(JOB | {"points": points}).load_points] == pytest.approx(
        [0.1, 0.05]
    )
    with pytest.raises(SpecError, match="tolerance"):
        job_of(JOB | {"points": [{"length": 60, "load": 15, "tolerance": "2 mm"}, *JOB["points"]]})


def test_never_worse_than_the_exact_loads() -> None:
    exact, free = search(job_of(JOB)), search(job_of(JOB | {"use_tolerance": 1}))
    assert (free.costs.min(axis=0) <= exact.costs.min(axis=0) * (1 + 1e-9)).all()
    # and here better: a lighter spring carries a lower load
    assert free.costs[:, 0].min() < 0.97 * exact.costs[:, 0].min()


def test_it_opens_the_door_and_why_not_says_so() -> None:
    closed = size(job_of(TOO_NARROW))
    assert not closed.winners
    told = next(r for r in closed.why_not if r.rule == "use_tolerance")
    assert told.alone
    share = float(told.text.split("could use ")[1].split(" %")[0]) / 100
    opened = size(job_of(TOO_NARROW | {"use_tolerance": share}))
    assert opened.winners
    w = opened.winners[0]
    asked = np.array([15.0, 30.0])
    assert np.all(np.abs(np.array(w.loads) - asked) <= (0.1 * share + 1e-6) * asked)
    assert np.any(np.abs(np.array(w.loads) - asked) > 0.01 * asked)
    # the chance is that of the tolerance asked for, not of what the design left of it
    assert [s.wanted for s in w.spreads] == [15, 30]
    assert [s.allowed for s in w.spreads] == pytest.approx([1.5, 3.0])


def test_where_no_tolerance_helps_none_is_promised() -> None:
    hopeless = size(job_of(JOB | {"envelope": {"outer_diameter": 2}}))
    assert "use_tolerance" not in [r.rule for r in hopeless.why_not]


def test_wires_differ_between_choices(tmp_path: Path) -> None:
    result = size(job_of(JOB | {"use_tolerance": 1}), top=4)
    wires = [(w.candidate.d, w.candidate.ends) for w in result.winners]
    assert len(set(wires)) == 4


def test_an_energy_leaves_the_load_open_already(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "j.yaml").write_text(
        "energy: {lengths: [45, 57], energy: 0.2 J}\nuse_tolerance: 50 %\n"
    )
    assert run(["size", str(tmp_path / "j.yaml")]) == 2
    assert "use_tolerance" in capsys.readouterr().err
