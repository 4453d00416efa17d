"""Of several figures the least counts: margins of both ways, chances, reserves."""

from __future__ import annotations

import pytest

from springgeo.sizing import Result, job_of, size
from springgeo.sizing.search.candidate import candidate
from springgeo.sizing.search.search import search

JOB = {
    "points": [
        {"length": 60, "load": 15, "tolerance": "5 %"},
        {"length": 75, "load": 30, "tolerance": "15 %"},
    ],
    "service": {"duty": "infinite"},
    "least": {"body": 1.3, "hook_bending": 1.15, "hook_torsion": 1.2, "fatigue": 1.25},
    "choice": {
        "materials": ["astm-a228", "en-10270-1-dh"],
        "series": ["en-iso"],
        "ends": ["raised-hook", "full-twisted-loop"],
    },
}


@pytest.fixture(scope="module")
def result() -> Result:
    found = size(job_of(JOB), 2)
    assert len(found.winners) > 1
    return found


def test_margins_are_the_lesser_of_both_ways(result: Result) -> None:
    differ = 0
    for w in result.winners:
        book, wire = w.summary.points[-1].margin, w.summary.along_the_wire.points[-1].margin
        for place, name in (
            ("body", "body_shear"),
            ("hook_bending", "hook_bending"),
            ("hook_torsion", "hook_torsion"),
        ):
            both = getattr(book, name), getattr(wire, name)
            assert w.margins[place] == min(both)
            differ += abs(both[0] / both[1] - 1) > 1e-3
        cycle = w.summary.fatigue
        assert cycle is not None
        factors = [p.factor for way in (cycle.handbook, cycle.along_the_wire) for p in way.values()]
        assert w.margins["fatigue"] == min(f for f in factors if f is not None)
    assert differ


def test_the_chance_is_that_of_the_worst_length(result: Result) -> None:
    for w in result.winners:
        chances = [s.chance for s in w.spreads]
        assert w.chance == min(chances)
        assert max(chances) > min(chances)


@pytest.mark.parametrize("duty", ["static", "infinite"])
def test_the_reserve_is_the_least_over_what_was_asked_for(duty: str) -> None:
    found = search(job_of(JOB | {"service": {"duty": duty}, "method": "handbook"}))
    least, deciding = found.job.least, set()
    for place in found.places[:: max(len(found.places) // 20, 1)]:
        c = candidate(found, place)
        shares = {
            k: c.margins[k] / getattr(least, k) for k in ("body", "hook_bending", "hook_torsion")
        }
        shares |= {k: v / least.fatigue for k, v in c.margins.items() if k.startswith("fatigue")}
        assert c.reserve == pytest.approx(min(shares.values()), rel=1e-12)
        deciding.add(min(shares, key=lambda k: shares[k]))
    assert deciding
    assert deciding != {"body"}
