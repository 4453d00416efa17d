"""Names of numbers, and the command."""

from __future__ import annotations

import json
from collections.abc import Iterable

import pytest

import springgeo as sg
from springgeo.checks.centreline import centreline_checks
from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.explanation import Leaf, answered, homes, leaves, named
from springgeo.explanation.asked import bare
from springgeo.summary.sections import SECTIONS, Sections
from springgeo.worked.number import recorded

PATHS = [
    "rate",
    "rates.handbook",
    "points.0.hook_bending",
    "points.1.hook_bending",
    "points.1.margin.hook_bending",
    "along_the_wire.points.0.hook_bending",
    "along_the_wire.points.1.hook_bending",
    "fatigue.margin",
    "verdict.margin",
]


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("rate", "rate"),
        ("hook_bending", "points.1.hook_bending"),
        ("points.0.hook_bending", "points.0.hook_bending"),
        ("points[0].hook_bending", "points.0.hook_bending"),
        ("margin.hook_bending", "points.1.margin.hook_bending"),
        ("points.margin.hook_bending", "points.1.margin.hook_bending"),
        ("along_the_wire.hook_bending", "along_the_wire.points.1.hook_bending"),
        ("Verdict.Margin", "verdict.margin"),
    ],
)
def test_a_name_is_a_path_or_its_end(name: str, path: str) -> None:
    assert named(name, PATHS) == path


def test_a_misspelt_name_is_offered_its_neighbours() -> None:
    with pytest.raises(SpecError, match=r"did you mean 'hook_bending'") as caught:
        named("hook_bendign_a", PATHS)
    assert caught.value.findings[0].code == "unknown-quantity"


def test_a_number_that_other_springs_have_is_no_slip_of_the_pen() -> None:
    """Without loads there is no verdict: what is missing is said, and no neighbour offered."""
    spring = sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1},
            "body": {"index": 8, "coils": 4},
            "ends": {"first": {"style": "plain"}, "second": {"style": "plain"}},
        }
    )
    with pytest.raises(SpecError, match=r"verdict\.margin.*service\.loads") as caught:
        spring.explain("verdict.margin")
    assert caught.value.findings[0].code == "quantity-not-here"


def test_a_length_below_the_initial_tension_says_so() -> None:
    spring = sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1},
            "body": {"index": 8, "coils": 4, "initial_tension": 5},
            "ends": {"first": "machine-half-loop", "second": "machine-half-loop"},
            "service": {"loads": [3, 12]},
        }
    )
    first, second = (str(spring.explain(f"points.{i}.length")) for i in (0, 1))
    assert "not above the initial tension" in first
    assert "not above the initial tension" not in second
    assert spring.explain("verdict.margin").title.endswith("both ends, handbook)")


def test_several_numbers_of_one_name_are_named() -> None:
    with pytest.raises(SpecError, match=r"fatigue\.margin, verdict\.margin"):
        named("margin", PATHS)


def test_the_command_tells_formula_values_and_source(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", "--preset", "gate-latch", "hook_torsion"]) == 0
    out = capsys.readouterr().out
    assert "= 8 K_B F D/(pi d^3)" in out
    assert "= 8 * 1.34091 * 30 N * 9.6 mm/(pi * (1.2 mm)^3)" in out
    assert "Shigley eq. 10-36 (read)" in out
    assert "wire.diameter" in out
    assert "Caution: " in out


def test_in_inches_values_are_put_in_where_the_formula_holds_in_any_unit(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(["explain", "--preset", "gate-latch", "--units", "inch", "dynamics.both_held"]) == 2
    assert "natural_frequency_both_held" in capsys.readouterr().err
    name = "natural_frequency_both_held"
    assert run(["explain", "--preset", "gate-latch", "--units", "inch", name]) == 0
    out = capsys.readouterr().out
    # a pound-force is what a pound weighs: 386.089 in/s^2 (NIST SP 811, standard acceleration)
    assert "sqrt(386.089 lb in/(lbf s^2) * 7.20" in out
    assert "0.0472441 in" in out
    assert run(["explain", "--preset", "gate-latch", "--units", "inch", "geometry.mass"]) == 0
    out = capsys.readouterr().out
    assert "lb/in^3" in out
    assert "kg" not in out


def test_json_holds_the_steps(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["explain", "--preset", "gate-latch", "rate", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    first = data["steps"][0]
    assert (first["symbol"], first["unit"]) == ("k", "N/mm")
    assert first["expression"] == "G*d**(4)/(8*D**(3)*N_a)"
    assert {o["name"] for o in first["operands"]} == {"G", "D", "d", "N_a"}
    assert data["cautions"]


@pytest.mark.parametrize("section", SECTIONS)
def test_a_section_alone_has_the_numbers_of_the_whole(section: str, whole: dict[str, Leaf]) -> None:
    """To the last digit, whatever states the others have sought."""
    _alone("gate-latch", section, whole)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["relay-armature", "letter-scale", "damper-flap"])
def test_of_springs_whose_states_hang_on_their_order_too(name: str) -> None:
    whole = sg.Spring.from_preset(name).explained_numbers()
    for section in SECTIONS:
        _alone(name, section, whole)


def _alone(name: str, section: str, whole: dict[str, Leaf]) -> None:
    spring = sg.Spring.from_preset(name)
    with recorded():
        alone = Sections(spring.model, centreline_checks(spring.model))[section]
    found, there = leaves({section: alone}), [p for p in whole if p.split(".")[0] == section]
    assert list(found) == there
    for path, leaf in found.items():
        assert leaf.value == whole[path].value, path
        assert leaf.about == whole[path].about, path


def test_a_name_is_looked_for_in_the_sections_that_can_hold_it(whole: dict[str, Leaf]) -> None:
    """Every end of every path, with and without places in lists, means the same as of all."""
    every: dict[str, list[str]] = {}
    for path in whole:
        every.setdefault(path.split(".")[0], []).append(path)
    ends = {".".join(p.split(".")[i:]) for p in whole for i in range(p.count(".") + 1)}
    for name in sorted({*ends, *(bare(x) for x in ends)} - {""}):
        near: list[str] = []
        for parts, keys in homes(name):
            near += [p for key in keys for p in every.get(key, ()) if p not in near]
            if answered(name, near, parts):
                break
        else:
            near = list(whole)
        assert _meant(name, near) == _meant(name, whole), name


def _meant(name: str, paths: Iterable[str]) -> str | set[str]:
    try:
        return named(name, paths)
    except SpecError as exc:
        return set(str(exc).split())


@pytest.fixture(scope="module", name="whole")
def _whole() -> dict[str, Leaf]:
    return sg.Spring.from_preset("gate-latch").explained_numbers()
