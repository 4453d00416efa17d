"""Numbers without a unit in a file that asks for inch: mm, N all the same, and it is said."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest

from springgeo import Spring
from springgeo.errors import SpecError
from springgeo.sizing.job.job import Job, job_of
from springgeo.specification import Spec
from springgeo.specification.bare import bare_fields
from springgeo.text.shown import Shown
from tests.stability.drawn import specification
from tests.stability.wild import spoilt


def data(**other: Any) -> dict[str, Any]:
    return {
        "units": "inch",
        "wire": {"material": "astm-a228", "diameter": "0.047 in"},
        "body": {"mean_diameter": "0.378 in", "coils": 18.5, "initial_tension": "1.5 lbf"},
        "ends": {"first": {"style": "full-twisted-loop"}, "second": "machine-half-loop"},
        "service": {"loads": ["5 lbf", "8 lbf"], "temperature": "68 degF"},
        **other,
    }


def codes(spec: dict[str, Any]) -> dict[str, str]:
    return {f.code: f.severity for f in Spring.from_dict(spec).summary().findings}


def test_numbers_that_need_a_unit_are_found_and_no_others() -> None:
    spec = data(
        wire={"diameter": 1.2},
        ends={
            "first": {"style": "reduced-half-loop", "coils": 2, "bend_radius": 2},
            "second": "plain",
        },
        service={"loads": ["5 lbf", 8.0], "forcing_frequency": 3, "temperature": "25"},
        mating={"around": {"bore": {"diameter": 20, "length": "1 in"}}, "play": 0},
    )
    assert bare_fields(Spec, spec) == (
        "wire.diameter",
        "ends.first.bend_radius",
        "service.loads",
        "service.temperature",
        "mating.around.bore.diameter",
    )
    assert bare_fields(Spec, data()) == ()
    assert bare_fields(Spec, {"wire": 3, "body": [1, 2], "ends": None}) == ()


def test_it_is_said_where_it_misleads_alone() -> None:
    bare = data(service={"loads": [20, 35]})
    assert codes(bare)["bare-number"] == "warning"
    assert "bare-number" not in codes(data())
    assert "bare-number" not in codes({**bare, "units": "mm"})


def test_a_refusal_says_so_too() -> None:
    with pytest.raises(SpecError) as refused:
        Spring.from_dict(data(wire={"diameter": 0.047}))
    small, bare = refused.value.findings
    assert (small.code, bare.code) == ("wire-diameter-too-small", "bare-number")
    assert "wire.diameter" in bare.message
    assert Shown("inch").text(small.message).startswith("0.00185039 in is below the limit")


def test_a_job_says_so_too() -> None:
    job = {
        "units": "inch",
        "points": [{"load": "5 lbf", "length": "2 in"}, {"load": 40, "length": 60}],
    }
    assert job_of(job).bare == bare_fields(Job, job) == ("points.load", "points.length")
    assert job_of({**job, "units": "mm"}).bare == ()


# quotations, sources and examples name units of both systems
QUOTED = re.compile(r"'[^']*'|\([^()]*(\([^()]*\)[^()]*)*\)|\[[^\]]*\]|for example.*")
METRIC = re.compile(r"\d\s?(mm|N|MPa|N/mm|degC|kg|mJ)\b")


@pytest.mark.slow
def test_nothing_said_of_random_springs_stays_metric() -> None:
    found = {}
    for seed in range(80):
        rng = np.random.default_rng([7, seed])
        spec = specification(rng)
        try:
            findings = Spring.from_dict(spoilt(rng, spec) if seed % 2 else spec).summary().findings
        except SpecError as exc:
            findings = exc.findings
        for f in findings:
            text = QUOTED.sub("", Shown("inch").text(f.message))
            if f.topic == "design" and METRIC.search(text):
                found[f.code] = text
    assert found == {}
