"""Choices that differ: as many as asked for, with one objective too, and none nearly twice."""

from __future__ import annotations

import json
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from springgeo.cli.main import run
from springgeo.sizing import Result, job_of, size
from springgeo.sizing.answer.rank import alike
from tests.gate import thinned

JOB: dict[str, Any] = {
    "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
    "envelope": {"outer_diameter": 14},
    "choice": {"ends": ["full-twisted-loop", "machine-half-loop"]},
}


@cache
def four(objectives: str, method: str) -> Result:
    """Return four choices, which several tests look at."""
    return size(job_of(JOB | {"objectives": objectives.split(), "method": method}), 4)


def sizes(result: Result) -> list[tuple[Any, ...]]:
    """Return ends, wire, coil diameter, rate and shear modulus of each choice, as built."""
    return [
        (
            w.candidate.ends,
            w.summary.geometry.wire_diameter,
            w.summary.geometry.mean_diameter,
            w.candidate.line.k,
            w.summary.material.shear_modulus,
        )
        for w in result.winners
    ]


def differ(a: tuple[Any, ...], b: tuple[Any, ...]) -> float:
    """Return the greatest relative difference of two choices, 1 for other ends."""
    if a[0] != b[0]:
        return 1.0
    return max(abs(x - y) / max(x, y) for x, y in zip(a[1:], b[1:], strict=True))


@pytest.mark.parametrize(
    ("objectives", "method"),
    thinned(
        2,
        ["mass", "margin", "mass margin envelope"],
        ["handbook", "along-the-wire"],
    ),
)
def test_as_many_as_asked_for_and_no_two_alike(objectives: str, method: str) -> None:
    result = four(objectives, method)
    made = sizes(result)
    assert len(made) == 4
    assert min(differ(a, b) for a, b in combinations(made, 2)) >= 0.05 * (1 - 1e-6)
    scores = [w.score for w in result.winners]
    if " " not in objectives:
        assert scores == sorted(scores)
        assert scores[0] == pytest.approx(0, abs=1e-12)


def test_the_first_of_one_objective_is_the_lightest_of_all() -> None:
    mass = [w.candidate.mass for w in four("mass", "handbook").winners]
    assert len(mass) == 4
    assert mass == sorted(mass)


def test_nearly_equal_choices_come_where_they_are_asked_for() -> None:
    job = JOB | {"objectives": ["mass"], "method": "handbook"}
    near = sizes(size(job_of(job | {"apart": 0}), 3))
    assert len(near) == 3
    assert min(differ(a, b) for a, b in combinations(near, 2)) < 0.05
    far = size(job_of(job | {"apart": "30 %"}), 3)
    assert min(differ(a, b) for a, b in combinations(sizes(far), 2)) >= 0.3 * (1 - 1e-6)
    assert far.alike > 0


def test_other_ends_are_another_choice() -> None:
    """Of the same sizes to the last digit."""
    found = four("mass", "handbook").found
    place = found.places[0]
    assert alike(found, place, place)
    assert not alike(found, place, place._replace(ends=1 - place.ends))


def _sized(folder: Path, job: str, *options: str) -> None:
    (folder / "job.yaml").write_text(job)
    assert run(["size", str(folder / "job.yaml"), "-o", str(folder / "out"), *options]) == 0


def test_the_command_says_what_was_left_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _sized(
        tmp_path,
        "points: [{length: 60, load: 15}, {length: 75, load: 30}]\nobjectives: [mass]\n"
        "choice: {ends: [raised-hook], materials: [astm-a228]}\nmethod: handbook\n",
    )
    out = capsys.readouterr().out
    assert "left out: " in out
    assert "within 5 % of a choice in wire, coil diameter, rate and modulus" in out


def test_the_command_says_what_is_not_judged(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Margins of a body alone are no word that a plug holds."""
    _sized(
        tmp_path,
        "points: [{length: 120, load: 200}, {length: 160, load: 500}]\nobjectives: [mass]\n"
        "choice: {ends: [threaded-plug], materials: [astm-a401]}\n",
        "--top=2",
    )
    out = capsys.readouterr().out
    for end in ("first", "second"):
        words = f"the pull-out of the plug at the {end} end is not computed"
        assert f"choices 1, 2: NOT JUDGED whether it holds: {words}\n" in out
    choices = json.loads((tmp_path / "out" / "sizing.json").read_text())["choices"]
    assert [c["verdict"]["outcome"] for c in choices] == ["not judged"] * 2
    # dimensions in words, and none that does not count
    told = out[out.index("mostly from ") :].splitlines()[0]
    assert "free length " in told
    assert "_" not in told
    assert " 0 %" not in told


@pytest.mark.parametrize("duty", [{"duty": "infinite"}, {"duty": "cyclic", "cycles": 1e6}])
def test_the_handbook_re_check_looks_at_fatigue(duty: dict[str, Any]) -> None:
    job = job_of(JOB | {"method": "handbook", "service": duty, "least": {"fatigue": 1.3}})
    result = size(job, 2)
    assert result.winners
    for w in result.winners:
        assert w.margins["fatigue"] == pytest.approx(
            min(v for k, v in w.candidate.margins.items() if k.startswith("fatigue")), rel=2e-3
        )
        assert w.margins["fatigue"] >= 1.3 * (1 - 2e-3)
