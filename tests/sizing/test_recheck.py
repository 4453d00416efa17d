"""What is built is checked by all rules again, and the search learns of what fell short."""

from __future__ import annotations

import importlib
from typing import Any

import pytest

from springgeo.api import Spring
from springgeo.sizing import Job, job_of, search, size
from springgeo.sizing.answer.recheck import misses_of
from springgeo.sizing.size import ROUNDS, Result

LONG: dict[str, Any] = {
    "points": [{"length": 65.9843, "load": 4.375852}, {"length": 72.2951, "load": 5.091515}],
    "choice": {
        "materials": ["en-10270-1-sh"],
        "wire_sizes": [0.5],
        "ends": ["crossover-centre-loop"],
    },
    "envelope": {"outer_diameter": 5.51412, "free_length": 33.8714},
    "least": {"body": 0.994, "hook_bending": 1.247, "hook_torsion": 1.476},
    "objectives": ["margin", "free_length", "envelope"],
}


def test_a_spring_that_is_longer_when_built_is_none() -> None:
    """By its load curve it has more coils than small loads tell, and was 0.2 mm too long."""
    winners = size(job_of(LONG), 2).winners
    assert winners
    for w in winners:
        assert w.summary.geometry.free_length <= 33.8714


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"envelope": {"outer_diameter": 0.99}}, "outside diameter 9 mm is above 8.91 mm"),
        ({"envelope": {"rod_diameter": 1.01}}, "inside diameter 7 mm is below 7.07 mm"),
        ({"envelope": {"hook_a": 0.99}}, "hook of the first end"),
        ({"envelope": {"hook_b": 0.99}}, "hook of the second end"),
        ({"envelope": {"free_length": 0.99}}, "free length"),
        ({"service": {"forcing_frequency": 1.01}}, "a fifteenth of the natural frequency"),
    ],
)
def test_every_room_is_checked_again(change: dict[str, dict[str, float]], words: str) -> None:
    spring = Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1},
            "body": {"mean_diameter": 8, "coils": 20, "initial_tension": 5},
            "ends": {"first": {"style": "raised-hook"}, "second": {"style": "machine-half-loop"}},
            "service": {"loads": [10, 20]},
        }
    )
    s = spring.summary()
    g = s.geometry
    own = {
        "outer_diameter": g.outer_diameter,
        "rod_diameter": g.inner_diameter,
        "hook_a": g.hook_length_first,
        "hook_b": g.hook_length_second,
        "free_length": g.free_length,
        "forcing_frequency": s.dynamics.natural_frequency_both_held / 15,
    }

    def missed(share: float) -> list[str]:
        ((field, limit),) = change.items()
        ((name, factor),) = limit.items()
        within = 1 + (factor - 1) * share
        job = job_of({"points": _points(spring)} | {field: {name: own[name] * within}})
        return misses_of(job, job.lines[0], s, (10.0, 20.0), {"body": 2.0})

    (text,) = missed(1.0)
    assert text.startswith(words)
    assert not missed(-1.0)
    assert not missed(0.0)


def _points(spring: Spring) -> list[dict[str, float]]:
    return [{"length": spring.load_curve.length(x), "load": x} for x in (10.0, 20.0)]


def test_ends_stand_either_way_round_where_their_rooms_differ() -> None:
    job: dict[str, Any] = {
        "points": [{"length": 90, "load": 15}, {"length": 105, "load": 30}],
        "method": "handbook",
        "choice": {
            "materials": ["astm-a228"],
            "series": ["en-iso"],
            "ends": ["extended-hook", "machine-half-loop"],
            "mixed_ends": True,
        },
        "envelope": {"hook_a": 9, "hook_b": 60},
        "objectives": ["mass"],
    }
    found = search(job_of(job))
    pairs = [found.job.end_pairs[place.ends] for place in found.others]
    assert ["machine-half-loop", "extended-hook"] in [[end.style for end in x] for x in pairs]
    # where the rooms are alike the other way round is the same spring
    assert len(job_of(job).end_pairs) == 4
    assert len(job_of(job | {"envelope": {"hook_a": 60, "hook_b": 60}}).end_pairs) == 3


def test_nothing_is_learnt_after_the_last_round(monkeypatch: pytest.MonkeyPatch) -> None:
    asked, learnt = [], []

    def none_holds(found: object, top: int) -> tuple[object, list[object]]:
        asked.append(top)
        return Result(found, (), ("away",), ()), []  # type: ignore[arg-type]

    def learn(*_given: object) -> bool:
        learnt.append(1)
        return True

    sizing = importlib.import_module("springgeo.sizing.size")
    monkeypatch.setattr(sizing, "_checked", none_holds)
    monkeypatch.setattr(sizing, "_learn", learn)
    size(_plain(), 1)
    assert len(asked) == ROUNDS
    assert len(learnt) == ROUNDS - 1


def _plain() -> Job:
    choice = {"materials": ["astm-a228"], "wire_sizes": [1.2], "ends": ["raised-hook"]}
    points = [{"length": 60, "load": 15}, {"length": 75, "load": 30}]
    return job_of({"points": points, "choice": choice, "objectives": ["mass"]})
