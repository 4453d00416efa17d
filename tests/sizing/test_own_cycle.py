"""Each candidate is judged by its own cycle: an open job finds the best of its lines."""

from __future__ import annotations

from typing import Any

import pytest

from springgeo.sizing import job_of, size
from springgeo.sizing.job.need import SHARES
from springgeo.sizing.job.wires import Stock
from springgeo.sizing.search.search import search

# 0.2 J over 12 mm: a mean load of 200/12 N
MEAN = 200 / 12
# carbon steel, alloyed and stainless: lives by their own tables
WIRES = ["astm-a228", "en-10270-1-sh", "astm-a401", "astm-a313-302"]
JOB: dict[str, Any] = {
    "energy": {"lengths": [45, 57], "energy": 200},
    "service": {"duty": "infinite"},
    "choice": {"series": ["en-iso"], "materials": WIRES, "ends": ["raised-hook"]},
    "objectives": ["mass"],
    "least": {"body": 1.1, "hook_bending": 1.1, "hook_torsion": 1.1, "fatigue": 1.1},
}


# of every wire there is
WHOLE = JOB | {"choice": JOB["choice"] | {"materials": []}}


def with_load(share: float, job: dict[str, Any] = JOB) -> dict[str, Any]:
    return job | {"energy": job["energy"] | {"load": share * MEAN}}


@pytest.mark.parametrize("duty", [{"duty": "infinite"}, {"duty": "cyclic", "cycles": 1e6}, {}])
@pytest.mark.parametrize(
    "job", [JOB, pytest.param(WHOLE, marks=pytest.mark.slow)], ids=["some", "whole"]
)
def test_an_open_energy_finds_the_best_of_its_lines(
    job: dict[str, Any], duty: dict[str, Any]
) -> None:
    change = {"service": duty}
    open_job = job_of(job | change)
    alone = [search(job_of(with_load(s, job) | change)) for s in SHARES]
    assert [f.job.lines[0].F_1 for f in alone] == pytest.approx([x.F_1 for x in open_job.lines])
    best = min(float(f.costs.min()) for f in alone if f.places)
    assert float(search(open_job).costs.min()) == pytest.approx(best, rel=1e-9)


@pytest.mark.slow
def test_the_lightest_of_an_energy_is_found_whole() -> None:
    """The figures of the day before: 7.13 g for the open job, 4.01 g for one line of it."""
    open_job = size(job_of(WHOLE), 1).winners[0].summary.geometry.mass
    alone = [w for s in SHARES for w in size(job_of(with_load(s, WHOLE)), 1).winners]
    best = min(w.summary.geometry.mass for w in alone)
    assert open_job == pytest.approx(best, rel=0.01)


def test_wires_of_a_line_endure_its_own_ratio() -> None:
    job = job_of(JOB)
    stock = Stock.of(job)
    least = stock.at(job.lines[0])
    most = stock.at(job.lines[-1])
    assert least.material == most.material
    assert (most.fatigue[0] >= least.fatigue[0])[least.fatigue[0] > 0].all()
    assert stock.at(job.lines[0]) is least
    assert least.d.tolist() == most.d.tolist()


def test_a_share_of_the_tolerance_is_judged_line_by_line() -> None:
    points = [
        {"length": 60, "load": 20, "tolerance": 0.2},
        {"length": 75, "load": 30, "tolerance": 0.2},
    ]
    job = job_of(
        {k: v for k, v in JOB.items() if k != "energy"} | {"points": points, "use_tolerance": 1}
    )
    best = float(search(job).costs.min())
    alone = []
    for line in job.lines:
        own = [{"length": line.L_1, "load": line.F_1}, {"length": line.L_2, "load": line.F_2}]
        found = search(
            job_of(job.model_dump(exclude={"points", "use_tolerance"}) | {"points": own})
        )
        alone += [float(found.costs.min())] if found.places else []
    assert best == pytest.approx(min(alone), rel=1e-6)
