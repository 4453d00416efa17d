"""Repeated load where the mating section makes the pull another: stresses as mounted, the least."""

from __future__ import annotations

from typing import Any

import pytest

import springgeo as sg
from springgeo.cli.main import run
from springgeo.report import page
from springgeo.results.summary import Summary
from tests.mounted import FREE, aside, gate
from tests.springs import asked

CYCLE = {"duty": "cyclic", "cycles": 1e6}
EYES = ("extended-eye", "extended-eye")
PLACES = ("body_shear", "hook_bending", "hook_torsion")


def spring(service: dict[str, Any], *styles: str, offset: float = 4.0) -> sg.Spring:
    """Return a spring between held pins that stand aside, loaded again and again."""
    return aside({**CYCLE, **service}, *styles, offset=offset)


@pytest.mark.parametrize("styles", [(), ("hook-at-side", "english-loop")])
@pytest.mark.parametrize(
    "service",
    [
        {"loads": [2.0, 5.0]},  # below the initial tension
        {"loads": [10.0, 25.0]},
        {"loads": [], "lengths": [34.0, 44.0]},
        {"loads": [25.0]},
    ],
)
def test_the_cycle_is_that_of_the_stresses_as_mounted(
    styles: tuple[str, ...], service: dict[str, Any]
) -> None:
    """Half their difference and their mean; the least factor of all ways is told."""
    s = asked(spring(service, *styles))
    assert s.fatigue is not None
    first, last = s.mounted[0], s.mounted[-1]
    for name, place in s.fatigue.mounted.items():
        high, low = getattr(last, name), getattr(first, name)
        assert place.alternating + place.mean == pytest.approx(max(high, low), rel=1e-9)
        if len(s.mounted) > 1:
            assert place.alternating == pytest.approx(abs(high - low) / 2, rel=1e-9)
    assert set(s.fatigue.mounted) == set(s.fatigue.along_the_wire)
    ways = (s.fatigue.handbook, s.fatigue.along_the_wire, s.fatigue.mounted)
    factors = [p.factor for way in ways for p in way.values() if p.factor is not None]
    assert s.fatigue.margin == pytest.approx(min(factors), rel=1e-12)
    there = [p.factor for p in s.fatigue.mounted.values() if p.factor is not None]
    assert s.fatigue.as_mounted == (min(there) == min(factors))
    if s.fatigue.as_mounted:
        assert s.fatigue.load_high == last.load


def test_a_spring_that_tires_as_mounted_is_told_to(
    capsys: pytest.CaptureFixture[str], tmp_path: Any
) -> None:
    """Pulled straight it lasts: text, verdict, page and exit code tell of the least."""
    made = spring({"loads": [5.0, 30.0]}, offset=8.0)
    alone = sg.Spring(made.spec.model_copy(update={"mating": None})).summary()
    s = made.summary()
    assert _outcome(alone) == "holds"
    assert _outcome(s) == "fails"
    assert s.fatigue is not None
    assert s.fatigue.as_mounted
    assert s.fatigue.margin is not None
    assert alone.fatigue is not None
    assert s.fatigue.margin < 1.0 < (alone.fatigue.margin or 0.0)
    assert "as mounted" in (s.verdict.words if s.verdict else "")
    (found,) = [f for f in s.findings if f.code == "fatigue"]
    assert "along the wire, as mounted" in found.message
    path = tmp_path / "gate.yaml"
    path.write_text(made.specification_text)
    assert run(["check", str(path), "--strict"]) == 1
    line = next(x for x in capsys.readouterr().out.splitlines() if x.startswith("fatigue"))
    assert "along the wire, as mounted" in line
    assert page(made).count("along the wire, as mounted") >= len(PLACES)


def test_let_go_between_pins_it_goes_from_the_free_spring() -> None:
    s = asked(spring({"loads": [0.0, 25.0]}))
    assert s.fatigue is not None
    for name, place in s.fatigue.mounted.items():
        free = s.fatigue.along_the_wire[name]
        low = free.mean - free.alternating
        assert place.mean - place.alternating == pytest.approx(low, rel=1e-9, abs=1e-9)


def _outcome(s: Summary) -> str:
    assert s.verdict is not None
    return s.verdict.outcome


def test_the_page_has_stress_stop_and_cycle_as_mounted() -> None:
    made = spring({"loads": [10.0, 25.0]})
    s, text = made.summary(), page(made)
    assert s.pull.mounted is not None
    for path, value in (
        ("pull.mounted.length", s.pull.mounted.length),
        ("mounted.1.hook_bending", s.mounted[1].hook_bending),
        (
            "fatigue.mounted.hook_bending.factor",
            s.fatigue and s.fatigue.mounted["hook_bending"].factor,
        ),
    ):
        assert f'<data value="{value!r}" data-path="{path}"' in text, path
    factor = text[text.index("Least factor") :]
    assert "along the wire, as mounted" in factor[: factor.index("</p>")]


def test_a_left_hand_spring_tires_by_its_spectrum_as_mounted_alone() -> None:
    """One pull is held with 1.4 to spare, the spectrum is endured pulled straight."""
    ranges = [{"loads": [3.0, 12.0], "count": 1e5}, {"loads": [0.0, 24.0], "count": 1e4}]
    made = spring({"spectrum": ranges, "cycles": None}, "raised-hook", "english-loop", offset=5.0)
    made = made.with_(body__hand="left")
    s, alone = made.summary(), sg.Spring(made.spec.model_copy(update={"mating": None})).summary()
    assert (_outcome(alone), _outcome(s)) == ("holds", "fails")
    assert s.verdict is not None
    assert s.verdict.margin > 1.3
    assert "FAILS in fatigue" in s.verdict.words
    assert "along the wire, as mounted" in s.verdict.words
    assert s.fatigue is not None
    assert s.fatigue.as_mounted
    # the worst range goes from the free spring to the highest load
    bend = s.fatigue.mounted["hook_bending"]
    assert bend.mean + bend.alternating == pytest.approx(s.mounted[-1].hook_bending, rel=1e-9)
    assert bend.mean - bend.alternating == pytest.approx(0.0, abs=1e-9)


def out_of_line() -> sg.Spring:
    """Return a spring of long eyes, between pins far out of line, held at two lengths."""
    return gate({**CYCLE, "lengths": [66.0, 76.0]}, FREE, *EYES)


def test_the_handbook_is_asked_at_the_loads_of_given_lengths_as_mounted() -> None:
    """At two lengths between pins out of line the spring bears more: the books' cycle is of that.

    By the handbook a load has one stress, however the spring is mounted.
    """
    s = asked(out_of_line())
    f = s.fatigue
    assert f is not None
    borne = [p.load for p in s.mounted]
    assert borne[1] > s.points[1].load + 2.0
    there = asked(gate({**CYCLE, "loads": borne}, None, *EYES)).fatigue
    assert there is not None
    for name, place in there.handbook.items():
        assert f.mounted_handbook[name].factor == pytest.approx(place.factor, rel=1e-9)
        assert f.mounted_handbook[name].mean == pytest.approx(place.mean, rel=1e-9)
    # as the verdict weighs one pull
    ways = (f.handbook, f.along_the_wire, f.mounted, f.mounted_handbook)
    assert f.margin == min(p.factor for way in ways for p in way.values() if p.factor is not None)
    # under given loads it is the handbook's own row
    assert asked(spring({"loads": [10.0, 25.0]})).fatigue.mounted_handbook == {}  # type: ignore[union-attr]


def test_where_the_handbook_as_mounted_is_the_least_that_is_told() -> None:
    made = out_of_line()
    s = made.summary()
    f = s.fatigue
    assert f is not None
    least = min(p.factor for p in f.mounted_handbook.values() if p.factor is not None)
    along = min(p.factor for p in f.mounted.values() if p.factor is not None)
    assert least < along
    assert (f.margin, f.way, f.as_mounted) == (least, "handbook", True)
    assert f.load_high == s.mounted[-1].load
    text = page(made)
    factor = text[text.index("Least factor") :]
    assert "handbook, as mounted" in factor[: factor.index("</p>")]
    assert "fatigue.mounted_handbook.hook_bending.factor" in text


def test_a_range_of_lengths_is_held_at_those_lengths() -> None:
    """One range of a spectrum is the cycle between the same lengths."""
    ends = [34.0, 44.0]
    one = asked(spring({"loads": [], "lengths": ends}))
    ranges = [{"lengths": ends, "count": 1e6}]
    many = asked(spring({"spectrum": ranges, "cycles": None}))
    assert [(p.load, p.length) for p in many.mounted] == [(p.load, p.length) for p in one.mounted]
    assert one.fatigue is not None
    assert many.fatigue is not None
    for way in ("handbook", "along_the_wire", "mounted", "mounted_handbook"):
        for name, place in getattr(one.fatigue, way).items():
            same = getattr(many.fatigue, way)[name]
            assert same.mean == pytest.approx(place.mean, rel=1e-9), (way, name)
            assert same.factor == pytest.approx(place.factor, rel=1e-6), (way, name)
    assert many.fatigue.load_high == pytest.approx(one.fatigue.load_high, rel=1e-9)
