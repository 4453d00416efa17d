"""A spring that its pins push at a given length: weighed by the size of the load."""

from __future__ import annotations

from typing import Any

import pytest

import springgeo as sg
from springgeo.cli.main import run
from springgeo.report import page
from springgeo.report.stroke import stroke_of
from springgeo.results.fatigue import FatiguePlace
from springgeo.summary.handbook import Handbook
from tests.mounted import ASIDE, gate
from tests.springs import asked

CYCLE = {"duty": "cyclic", "cycles": 1e6}


def pushed(**more: Any) -> sg.Spring:
    """Return a spring held aside, at a length at which its pins push it with 1.26 N."""
    return gate({"lengths": [27.8], "loads": [20.0], **more}, ASIDE)


def test_it_holds_what_its_wire_holds() -> None:
    """A negative load has no negative margin: the least is the wire's, at the lowest load."""
    made = pushed()
    s = asked(made)
    low, high = s.mounted
    assert low.load == pytest.approx(-1.262, abs=1e-3)
    v = s.verdict
    assert v is not None
    book = Handbook(made.model)
    margins = [
        m
        for p in (low, high, book.point(-low.load, low.length), book.point(high.load, high.length))
        for m in p.margin.model_dump().values()
        if m is not None
    ]
    assert v.margin == pytest.approx(min(margins), rel=1e-9)
    assert v.margin > 1.3
    assert v.outcome == "holds"
    assert "overstressed-as-mounted" not in [f.code for f in s.findings]
    (state,) = made.mounted(lengths=[27.8])
    assert state.beyond == ()


def test_one_that_is_pushed_beyond_what_it_holds_is_told_to_be() -> None:
    far = {**ASIDE, "offset": [14.0, 0.0]}
    made = gate({"lengths": [27.8], "loads": [20.0]}, far)
    s = asked(made)
    assert s.mounted[0].load < -1.0
    assert s.verdict is not None
    assert s.verdict.outcome == "fails"
    assert 0.0 < s.verdict.margin < 1.0
    (state,) = made.mounted(lengths=[27.8])
    assert [f.code for f in state.beyond] == ["state-overstressed"]


@pytest.mark.parametrize("count", [1, 2])
def test_its_cycle_ends_at_the_greatest_stress(count: int) -> None:
    """At the lowest load hook bending is greater than at the highest."""
    ranges = [{"lengths": [27.8, 35.0], "count": 1e6}] * count
    made = pushed(**CYCLE) if count == 1 else gate({"duty": "cyclic", "spectrum": ranges}, ASIDE)
    s = asked(made)
    f = s.fatigue
    assert f is not None
    low, high = s.mounted[0], s.mounted[-1]
    assert low.hook_bending is not None
    assert high.hook_bending is not None
    assert low.hook_bending > high.hook_bending
    bend = f.mounted["hook_bending"]
    assert bend.mean + bend.alternating == pytest.approx(low.hook_bending, rel=1e-9)
    assert bend.mean - bend.alternating == pytest.approx(high.hook_bending, rel=1e-9)
    assert bend.factor is not None
    assert bend.factor <= bend.static_strength / low.hook_bending * (1 + 1e-9)
    for place in (*f.mounted.values(), *f.mounted_handbook.values()):
        assert place.alternating >= 0
        assert place.factor is None or place.factor > 0
    turned(f.mounted_handbook["hook_bending"], made, (low.load, high.load))


def turned(place: FatiguePlace, made: sg.Spring, loads: tuple[float, float]) -> None:
    """By the handbook a push turns the stress round."""
    book = Handbook(made.model)
    low, high = (book.point(abs(x)).hook_bending for x in loads)
    assert low is not None
    assert high is not None
    assert place.alternating == pytest.approx((high + low) / 2, rel=1e-9)
    assert place.mean == pytest.approx((high - low) / 2, rel=1e-9)


def test_it_is_told_by_the_terminal_and_drawn(tmp_path: Any, capsys: Any) -> None:
    made = pushed(**CYCLE)
    file = tmp_path / "gate.yaml"
    file.write_text(made.specification_text, encoding="utf-8")
    assert run(["check", str(file)]) == 0
    assert "verdict: holds" in capsys.readouterr().out
    stroke = stroke_of(made)
    assert [x.load for x in stroke.states] == sorted(x.load for x in stroke.states)
    (low,) = (x for x in stroke.stops if x.name == "F1")
    (state,) = (x for x in stroke.states if x.load < 0)
    assert (state.load, state.length) == pytest.approx((low.load, low.length), rel=1e-8)
    assert "Holds" in page(made)


def test_where_nothing_is_borne_no_margin_is_told() -> None:
    """Round-off is no stress: without load the hooks have no margin, the wound body has."""
    s = asked(gate({"loads": [0.0, 25.0]}))
    for p in (s.points[0], s.along_the_wire.points[0]):
        assert (p.hook_bending, p.hook_torsion) == (0.0, 0.0)
        assert (p.margin.hook_bending, p.margin.hook_torsion) == (None, None)
        assert p.margin.body_shear is not None


def test_what_the_factor_as_mounted_leaves_out_is_told() -> None:
    """Of a pushed spring the greatest stress changes sides: the method says what that does."""
    words = "where they change sides the range is greater"
    there, bare = asked(pushed(**CYCLE)).fatigue, asked(gate({"loads": [20.0], **CYCLE})).fatigue
    assert there is not None
    assert bare is not None
    assert words in there.method
    assert words not in bare.method
