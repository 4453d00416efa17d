from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.optimize import differential_evolution

from springgeo.api import Spring
from springgeo.mechanics.value import Array
from springgeo.sizing import Found, Job, job_of
from springgeo.sizing.search.candidate import candidate
from springgeo.sizing.search.closed_form import proportions
from springgeo.sizing.search.objectives import costs
from springgeo.sizing.search.pareto import front
from springgeo.sizing.search.rules import slacks
from springgeo.sizing.search.scan import block
from springgeo.sizing.search.search import search
from tests.springs import asked


def test_every_design_of_the_front_meets_every_rule(found: Found) -> None:
    assert len(found.places) > 50
    for place in found.places[::20]:
        c = candidate(found, place)
        assert min(c.slack.values()) >= -1e-9
        assert c.initial_tension + c.line.k * (75 - c.free_length) == pytest.approx(30)


def test_no_design_beats_another(found: Found) -> None:
    assert len(front(found.costs)) == len(found.costs)


def test_closed_form_is_the_handbook_of_the_real_spring(found: Found) -> None:
    for place in found.places[:: len(found.places) // 5]:
        c = candidate(found, place)
        s = asked(Spring.from_dict(c.specification(found.job, "same")))
        assert s.free_length.model == pytest.approx(c.free_length, rel=1e-5)
        assert s.rate == pytest.approx(c.line.k, rel=1e-7)
        high = s.points[-1]
        straight = s.load_line.handbook[-1]
        assert (straight.load, straight.length) == pytest.approx((high.load, c.line.L_2), rel=1e-5)
        for name, value in zip(
            ("body_shear", "hook_bending", "hook_torsion"), c.margins.values(), strict=False
        ):
            assert getattr(high.margin, name) == pytest.approx(value, rel=1e-4)
        assert s.geometry.mass == pytest.approx(c.mass, rel=0.1)


def test_fatigue_factors_are_those_of_the_summary() -> None:
    lives = [{"duty": "cyclic", "cycles": N} for N in (1e4, 3e6, 2e7)]
    for service, material in (
        ({"duty": "infinite"}, "astm-a228"),
        ({"duty": "infinite", "temperature": 60}, "astm-a401"),
        *((service, "astm-a228") for service in lives),
        (lives[1], "en-10270-1-sh"),
    ):
        job = job_of(
            {
                "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
                "service": service,
                "choice": {
                    "materials": [material],
                    "series": ["en-iso"],
                    "ends": ["machine-half-loop", "double-twisted-full-loop", "v-hook"],
                },
            }
        )
        found = search(job)
        c = candidate(found, found.places[0])
        f = asked(Spring.from_dict(c.specification(job, "same"))).fatigue
        assert f is not None
        for name, place in zip(
            ["body", "hook_bending", "hook_torsion"], f.handbook.values(), strict=True
        ):
            assert place.factor == pytest.approx(c.margins[f"fatigue_{name}"], rel=1e-4)


def test_same_answer_twice(hatch: Job, found: Found) -> None:
    again = search(hatch)
    assert again.places == found.places
    assert np.array_equal(again.costs, found.costs)


def test_a_band_between_two_coarse_indices_is_found() -> None:
    # between rod and tube the coil has 0.02 mm to spare, a quarter of the coarse step
    job = {
        "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
        "method": "handbook",
        "envelope": {"rod_diameter": 5.5, "outer_diameter": 7.62},
        "choice": {"wire_sizes": [1.05], "materials": ["astm-a228"], "ends": ["machine-half-loop"]},
    }
    found = search(job_of(job))
    assert found.passing == 0
    assert found.places


def _of_some_spring(rng: np.random.Generator, service: dict[str, str]) -> Job:
    """A job that a random spring of moderate stress fulfils."""
    d, C, coils = rng.uniform(0.6, 3), rng.uniform(5, 11), rng.uniform(10, 50)
    force = np.pi * d * d * 231 * np.exp(-0.105 * C) / (8 * C)
    k = 80000 * d / (8 * C**3 * coils)
    free = d * (coils + 1 + 1.2 * C)
    high = 0.28 * 1500 * np.pi * d * d / (8 * C)
    loads = [force + share * (high - force) for share in (0.4, 1.0)]
    return job_of(
        {
            "points": [{"length": free + (f - force) / k, "load": f} for f in loads],
            "choice": {
                "series": ["metric-preferred"],
                "materials": ["astm-a228", "astm-a401"],
                "ends": ["machine-half-loop"],
            },
            "service": service,
            "objectives": AIMS[rng.integers(len(AIMS))],
        }
    )


AIMS = (
    ["mass", "margin", "envelope"],
    ["mass", "envelope", "cost"],  # all three ask for the same: few designs on the front
    ["free_length", "natural_frequency", "margin"],
)


@pytest.mark.parametrize("seed", range(6))
def test_brute_force_never_beats_the_front(seed: int) -> None:
    rng = np.random.default_rng(seed)
    job = _of_some_spring(rng, {"duty": "infinite"} if seed % 2 else {})
    found = search(job)
    assert found.places
    weight = rng.dirichlet(np.ones(3))
    best = float((np.log(found.costs) @ weight).min())

    def scalar(x: Array) -> Array:
        """Weighted logarithms of the costs, plus a penalty, of a population (2, n)."""
        wires = found.wires.part(np.minimum(x[0].astype(int), len(found.wires) - 1))
        b = block(job, job.lines[0], wires, proportions(x[1][:, None], job.end_pairs[0]))
        short = sum(np.maximum(-s, 0.0) for _, s in slacks(b))
        value = sum(w * np.log(c) for w, c in zip(weight, costs(b), strict=True))
        return np.where(short > 0, 100 + short, np.nan_to_num(value, nan=1e3))[:, 0]

    low_high = [(0, len(found.wires)), job.choice.index]
    answer = differential_evolution(
        scalar,
        low_high,
        popsize=60,
        maxiter=300,
        tol=1e-10,
        rng=seed,
        vectorized=True,
        updating="deferred",
        polish=False,
        strategy="best1bin",
    )
    assert answer.fun < 100
    assert np.exp(best - answer.fun) < 1.005


@pytest.mark.parametrize("rise", [0.01, 0.02, 0.03, 0.04])
def test_an_energy_over_a_stroke_on_which_the_load_hardly_rises(rise: float) -> None:
    """A spring's own energy over a short stroke finds it: its load rises by 1 to 4 % alone."""
    spring = Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.0},
            "body": {"mean_diameter": 8.0, "coils": 20, "initial_tension": 8},
            "ends": {"first": "machine-half-loop", "second": "machine-half-loop"},
        }
    )
    s = spring.summary()
    low, high = 25.0, 25.0 * (1 + rise)
    lengths = [s.geometry.free_length + (x - 8.0) / s.rate for x in (low, high)]
    job = job_of(
        {
            "energy": {"lengths": lengths, "energy": (low + high) / 2 * (lengths[1] - lengths[0])},
            "method": "handbook",
            "choice": {
                "materials": ["astm-a228"],
                "wire_sizes": [1.0],
                "ends": ["machine-half-loop"],
            },
            "envelope": {"outer_diameter": 9.3, "rod_diameter": 6.7},
        }
    )
    found = search(job)
    assert found.places
    lines = [found.job.lines[p.line] for p in found.places]
    assert all(0.9 < line.F_1 / line.F_2 < 1 for line in lines)


def test_an_energy_is_found_between_the_lines_looked_at() -> None:
    """One wire, one coil: the rate that it needs lies between those of neighbouring lines."""
    job: dict[str, Any] = {
        "energy": {"lengths": [125.1843, 139.4369], "energy": 565.5047},
        "choice": {
            "materials": ["en-10270-3-1.4310-hs"],
            "wire_sizes": [2.0],
            "ends": ["v-hook"],
        },
        "envelope": {"outer_diameter": 19.29, "free_length": 111.14, "rod_diameter": 14.62},
        "least": {"body": 0.92, "hook_bending": 1.018, "hook_torsion": 1.21},
        "objectives": ["natural_frequency"],
    }
    found = search(job_of(job))
    assert found.places
    line = found.job.lines[found.places[0].line]
    assert pytest.approx(565.5047) == (line.F_1 + line.F_2) / 2 * (line.L_2 - line.L_1)
    # lines between are looked at only where a job leaves the load open
    told = job_of(job | {"energy": job["energy"] | {"load": 31.74}})
    assert not search(told).places
    assert len(told.lines) == 1
