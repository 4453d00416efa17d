"""A load spectrum in a sizing job: each candidate by Miner's rule, on its own stresses."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from springgeo import materials
from springgeo.errors import SpecError
from springgeo.mechanics import life, spectrum
from springgeo.sizing import job_of, size
from springgeo.sizing.job.cycle import Cycle, cycle_of
from springgeo.sizing.job.wires import Stock
from springgeo.sizing.search.search import search
from springgeo.summary.fatigue.endured import endured_places

JOB: dict[str, Any] = {
    "points": [{"length": 60, "load": 8}, {"length": 90, "load": 30}],
    "choice": {"materials": ["astm-a228"], "ends": ["machine-half-loop"], "series": ["en-iso"]},
    "objectives": ["mass"],
    "least": {"fatigue": 1.1},
}
SPECTRUM = [{"loads": [8, 30], "count": 2e4}, {"loads": [13.5, 24.5], "count": 3e6}]


def with_service(**service: Any) -> dict[str, Any]:
    return JOB | {"service": {"duty": "cyclic", **service}}


def lightest(job: dict[str, Any]) -> float:
    return float(search(job_of(job)).costs.min())


def test_one_range_from_end_to_end_is_a_cycle() -> None:
    for N in (3e4, 1e6, 5e7):
        whole = lightest(with_service(spectrum=[{"loads": [8, 30], "count": N}]))
        assert whole == pytest.approx(lightest(with_service(cycles=N)), rel=1e-6)


def test_lengths_are_loads_on_the_line() -> None:
    by_length = [{"lengths": [60, 90], "count": 2e4}, {"lengths": [67.5, 82.5], "count": 3e6}]
    by_load = lightest(with_service(spectrum=SPECTRUM))
    assert lightest(with_service(spectrum=by_length)) == pytest.approx(by_load, rel=1e-9)


def test_between_the_worst_range_alone_and_all_at_full_range() -> None:
    both = lightest(with_service(spectrum=SPECTRUM))
    assert both >= lightest(with_service(spectrum=SPECTRUM[:1])) * (1 - 1e-9)
    assert both >= lightest(with_service(spectrum=SPECTRUM[1:])) * (1 - 1e-9)
    # the few full ranges are not as bad as if all were full
    assert both < lightest(with_service(cycles=3.02e6)) * (1 - 1e-3)


def test_the_wire_endures_what_miner_says_wire_by_wire() -> None:
    """Against the sum done by hand: Miner's rule, Shigley sec. 6-15, range by range."""
    job = job_of(with_service(spectrum=SPECTRUM))
    wires = Stock.of(job).wires
    material = materials.get("astm-a228")
    for i in range(0, len(wires), 7):
        d = float(wires.d[i, 0])
        S_ut = float(material.tensile_minimum(np.array([d]))[0])
        for j, place in enumerate(endured_places(material, d, S_ut).values()):
            allowed = float(wires.fatigue[j][i, 0])
            cycle = cycle_of(job.service, job.lines[0])
            assert allowed <= float(place.S_y) * (1 + 1e-12)
            assert _used(0.99999 * allowed, cycle, place) <= 1
            assert allowed == pytest.approx(float(place.S_y)) or (
                _used(1.00001 * allowed, cycle, place) > 1
            )


def _used(stress: float, cycle: Cycle, place: life.Endured) -> float:
    return sum(
        count / _life(stress * (high - low) / 2, stress * (high + low) / 2, place)
        for low, high, count in cycle
    )


def _life(s_a: float, s_m: float, place: life.Endured) -> float:
    """Return the life at which the factor without the static limit falls to 1, by bisection."""
    low, high = 0.0, 14.0
    for _ in range(80):
        middle = (low + high) / 2
        gerber, goodman, _ = life.factors(s_a, s_m, 10.0**middle, place)
        low, high = (middle, high) if min(gerber, goodman) >= 1 else (low, middle)
    return float("inf") if low > 13.99 else 10.0**low


@pytest.mark.parametrize("method", ["along-the-wire", "handbook"])
def test_winners_hold_their_spectrum(method: str) -> None:
    found = size(job_of(with_service(spectrum=SPECTRUM) | {"method": method}), 1)
    assert found.winners
    for w in found.winners:
        cycle = w.summary.fatigue
        assert cycle is not None
        assert [r.count for r in cycle.spectrum] == [2e4, 3e6]
        assert w.specification["service"]["spectrum"][1] == {"loads": (13.5, 24.5), "count": 3e6}
        assert w.margins["fatigue"] >= 1.1 * (1 - 2e-3)
        assert not w.misses


def test_many_wires_at_once_are_each_by_itself() -> None:
    material = materials.get("astm-a228")
    d = np.array([0.3, 1.0, 4.0])
    S_ut = material.tensile_minimum(d)
    s_a, s_m = np.array([0.25, 0.1]), np.array([0.75, 0.6])
    for counts in (np.array([1e4, 1e6]), np.array([2e5, 4e7]), np.array([1.0, 3e4])):
        whole = endured_places(material, d, S_ut)
        for name, places in whole.items():
            found = spectrum.spectrum_factor(s_a, s_m, counts, places)
            for i in range(3):
                alone = endured_places(material, float(d[i]), float(S_ut[i]))[name]
                one = spectrum.spectrum_factor(s_a, s_m, counts, alone)
                assert found[i] == pytest.approx(float(one), rel=1e-9)


@pytest.mark.parametrize(
    ("service", "words"),
    [
        ({"spectrum": [{"loads": [15, 31], "count": 10}]}, "beyond the job's highest load, 30 N"),
        ({"spectrum": [{"lengths": [59, 70], "count": 10}]}, "leaves the job's lengths"),
        ({"spectrum": SPECTRUM, "cycles": 1e5}, "in place of cycles"),
        ({"spectrum": SPECTRUM, "duty": "static"}, "for duty cyclic"),
        ({"spectrum": [{"loads": [30, 15], "count": 10}]}, "give the lowest first"),
        ({}, "needs them"),
    ],
)
def test_refused_in_one_line(service: dict[str, Any], words: str) -> None:
    with pytest.raises(SpecError, match=words) as caught:
        job_of(with_service(**service))
    assert len(caught.value.findings) == 1


def test_an_open_energy_takes_a_spectrum_of_lengths() -> None:
    job = JOB | {
        "energy": {"lengths": [45, 57], "energy": 200},
        "service": {"duty": "cyclic", "spectrum": [{"lengths": [48, 55], "count": 1e6}]},
    }
    del job["points"]
    found = search(job_of(job))
    assert found.places
    cycle = JOB | {"energy": job["energy"], "service": {"duty": "cyclic", "cycles": 1e6}}
    del cycle["points"]
    assert float(found.costs.min()) <= float(search(job_of(cycle)).costs.min()) * (1 + 1e-9)
