"""The rules of the search against the summary of the very spring, built whole.

Sources of the limits: resonance from 15 times the forcing frequency (Shigley, sec. 10-8); a bend
of 1.5 d (public glossary of spring terms); temperature limits of the material's data sheet.
"""

from __future__ import annotations

import numpy as np
import pytest

import springgeo as sg
from springgeo.sizing import job_of
from springgeo.sizing.search.candidate import Candidate, candidate
from springgeo.sizing.search.factors import ByIndex, Factors
from springgeo.sizing.search.search import search
from springgeo.summary import Summary
from springgeo.trade.practice import practice

FORCING, TEMPERATURE = 5.0, 60.0
JOB = {
    "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
    "method": "handbook",
    "service": {"forcing_frequency": FORCING, "temperature": TEMPERATURE},
    "choice": {
        "materials": ["astm-a228", "astm-a313-302"],
        "series": ["en-iso"],
        "ends": ["full-twisted-loop", "v-hook"],
        "mixed_ends": True,
    },
}


@pytest.fixture(scope="module")
def pairs() -> list[tuple[Candidate, Summary]]:
    """Return candidates with different ends, and the springs they stand for."""
    found = search(job_of(JOB))
    made = [candidate(found, p) for p in found.places[:: max(len(found.places) // 200, 1)]]
    mixed = [c for c in made if c.ends[0].style != c.ends[1].style][:6]
    assert mixed
    return [(c, sg.Spring.from_dict(c.specification(found.job, "x")).summary()) for c in mixed]


Pairs = list[tuple[Candidate, Summary]]


def test_frequency(pairs: Pairs) -> None:
    for c, s in pairs:
        own = s.dynamics.natural_frequency_both_held
        assert c.slack["frequency"] == pytest.approx(own / (15 * FORCING) - 1, rel=1e-2)


def test_a_frequency_is_that_of_the_coils_that_the_load_line_needs() -> None:
    """Along the wire a coil gives less or more than by the handbook, and there are so many more."""
    factors = {n: ByIndex({8.0: Factors(coils=0.9, turns=1.3)}) for n in range(3)}
    found = search(job_of(JOB), factors)
    for place in found.places[:: max(len(found.places) // 5, 1)]:
        c = candidate(found, place)
        s = sg.Spring.from_dict(c.specification(found.job, "x")).summary()
        own = s.dynamics.natural_frequency_both_held
        assert c.natural_frequency == pytest.approx(own, rel=1e-2)


def test_temperature(pairs: Pairs) -> None:
    for c, s in pairs:
        high, low = s.temperature.highest.value, s.temperature.lowest.value
        assert high is not None
        room = high - TEMPERATURE
        room = room if low is None else min(room, TEMPERATURE - low)
        assert c.slack["temperature"] == pytest.approx(room / 100)


def test_the_tighter_bend_counts(pairs: Pairs) -> None:
    differ = 0
    for c, s in pairs:
        bends = [s.geometry.bend_radius_first or 1e9, s.geometry.bend_radius_second or 1e9]
        differ += abs(bends[0] / bends[1] - 1) > 0.05
        assert c.slack["bend_radius"] == pytest.approx(min(bends) / c.d / 1.5 - 1, abs=1e-3)
    assert differ


def test_the_worse_hook_counts(pairs: Pairs) -> None:
    for c, s in pairs:
        margin = s.points[-1].margin
        assert c.margins["hook_bending"] == pytest.approx(margin.hook_bending, rel=1e-3)
        assert c.margins["hook_torsion"] == pytest.approx(margin.hook_torsion, rel=1e-3)


def test_coils_are_open_with_a_share_to_spare(pairs: Pairs) -> None:
    share = practice("open_share")
    assert 0 < share < 1
    for c, s in pairs:
        wound = s.initial_tension.force / s.points[0].load
        assert c.slack["coils_open"] == pytest.approx(1 - share - wound, abs=1e-6)


def test_an_end_without_a_hook_endures_for_ever_and_no_number_overflows() -> None:
    """Where nothing is bent a factor is infinite; as the greatest number it overflowed."""
    service = {"duty": "cyclic", "cycles": 1e5}
    choice = {"materials": ["astm-a228"], "wire_sizes": [1.2, 1.6], "ends": ["threaded-plug"]}
    with np.errstate(over="raise"):
        found = search(
            job_of(
                {
                    "points": JOB["points"],
                    "service": service,
                    "choice": choice,
                    "least": {"fatigue": 0.5},
                }
            )
        )
    assert found.places
    assert candidate(found, found.places[0]).slack["fatigue_hook_bending"] == np.inf
