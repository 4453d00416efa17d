"""How far the spring may be pulled: loads and lengths at allowable and yield, from outside."""

from __future__ import annotations

from typing import Any

import pytest

import springgeo as sg
from springgeo import materials
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.solved import Solved
from springgeo.summary.reach.reaching import load_reaching
from tests.springs import asked, summary_of

BASE: dict[str, Any] = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"index": 8, "coils": 18, "initial_stress": 100},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "raised-hook"}},
}
NAMES = ("body_shear", "hook_bending", "hook_torsion")


def summary(**changes: Any) -> sg.Summary:
    return summary_of({**BASE, **changes})


@pytest.mark.parametrize("name", NAMES)
def test_at_that_load_the_allowable_is_just_used_up(name: str) -> None:
    pull = summary().pull
    for way, places in (("points", pull.handbook), ("wire", pull.along_the_wire)):
        at = places[name].allowable
        s = summary(service={"loads": [at.load]})
        point = s.points[0] if way == "points" else s.along_the_wire.points[0]
        # along the wire between solved states, good to some thousandths of a wire diameter
        assert getattr(point.margin, name) == pytest.approx(1, rel=1e-6)
        assert point.length == pytest.approx(at.length, abs=2e-3)


def test_shigley_10_6_at_yield() -> None:
    """Shigley Example 10-6 (from memory): at 5.25 lbf factors 1.45 body, 1.27 A, 1.35 B.

    The books' formulas are proportional to load: each place reaches its strength at its factor
    times that load, and the hook at A first.
    """
    from springgeo.specification.load import spec_of
    from springgeo.text.yaml_text import read_yaml
    from tests.published import specs

    s = asked(sg.Spring(spec_of(read_yaml(specs.SHIGLEY, "shigley"))))
    lbf = 4.4482216152605
    for name, factor in zip(NAMES, (1.45, 1.27, 1.35), strict=True):
        assert s.pull.handbook[name].allowable.load / (5.25 * lbf) == pytest.approx(
            factor, rel=0.005
        )
    book = s.pull.handbook
    assert min(book, key=lambda name: book[name].allowable.load) == "hook_bending"
    # y = (F - F_i)/k by the printed figures: k 17.91 lbf/in, F_i 1.19 lbf, L0 0.817 in
    length = 0.817 + (1.27 * 5.25 - 1.19) / 17.91
    found = s.pull.handbook["hook_bending"].allowable.length
    assert found / 25.4 == pytest.approx(length, rel=0.005)


def test_yield_lies_between_the_published_elastic_limits() -> None:
    """A228: 65 to 75 % in tension, 45 to 60 % in torsion (Shigley ch. 10, from memory)."""
    s = summary(service={"loads": [30]})
    p = s.points[0]
    for name, (low, high) in zip(NAMES, ((0.45, 0.6), (0.65, 0.75), (0.45, 0.6)), strict=True):
        place, stress = s.pull.handbook[name], getattr(p, name)
        assert place.yield_from is not None
        assert place.yield_to is not None
        strength = s.material.tensile_strength
        assert place.yield_from.load == pytest.approx(30 * low * strength / stress, rel=1e-9)
        assert place.yield_to.load == pytest.approx(30 * high * strength / stress, rel=1e-9)


def test_the_travel_stop_is_the_first_of_all() -> None:
    pull = summary().pull
    every = [*pull.handbook.values(), *pull.along_the_wire.values()]
    assert pull.travel_stop == min(p.allowable.length for p in every)
    assert pull.first_yield is not None
    assert pull.first_yield.length == min(p.yield_from.length for p in every if p.yield_from)
    # it does not hang on the working points
    other = summary(service={"loads": [3, 90]}).pull
    assert (other.place, other.way) == (pull.place, pull.way)
    for way in ("handbook", "along_the_wire"):
        for name, place in getattr(pull, way).items():
            same = getattr(other, way)[name].allowable
            assert same.load == pytest.approx(place.allowable.load, rel=1e-6)
            assert same.length == pytest.approx(place.allowable.length, abs=2e-3)


def test_a_spring_without_hooks_has_its_body_alone() -> None:
    pull = summary(ends={"first": {"style": "plain"}, "second": {"style": "plain"}}).pull
    assert set(pull.handbook) == {"body_shear"}
    assert pull.place.kind == "body"


def test_a_body_wound_at_more_than_its_allowable_may_not_be_pulled_at_all() -> None:
    body = {"index": 8, "coils": 6, "initial_stress": 950}
    s = summary(body=body)
    at = s.pull.handbook["body_shear"].allowable
    assert at.load == pytest.approx(s.initial_tension.force)
    length = sg.Spring.from_dict({**BASE, "body": body}).at(load=at.load).length
    assert at.length == pytest.approx(length, abs=2e-3)


def test_any_stress_that_rises_with_the_load_is_met() -> None:
    """Not proportional, as on a load curve that stiffens: x + 0.02 x² reaches 100 MPa."""
    found = load_reaching(lambda f: f + 0.002 * f * f, 100.0, 3.0)
    assert found + 0.002 * found**2 == pytest.approx(100, rel=1e-9)


def test_every_material_has_its_limits_or_says_not_known() -> None:
    for name in materials.names():
        limits = materials.get(name).elastic_limits
        assert limits is not None
        for low, high in limits:
            assert 0.3 < low <= high < 1


def test_a_soft_spring_is_not_drawn_beyond_what_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pull of a newton is nothing to begin with where a tenth of it is the limit."""
    loads, at_load = [], Balance.at_load

    def noted(self: Balance, load: float, *others: Solved | None) -> Solved:
        loads.append(load)
        return at_load(self, load, *others)

    monkeypatch.setattr(Balance, "at_load", noted)
    wire = {"material": "astm-a228", "diameter": 0.06, "tensile_strength": 2200}
    ends = {k: {"style": "machine-half-loop"} for k in ("first", "second")}
    spring = sg.Spring.from_dict({"wire": wire, "body": {"index": 15, "coils": 30}, "ends": ends})
    pull = asked(spring).pull
    limits = [
        at.load
        for places in (pull.handbook, pull.along_the_wire)
        for place in places.values()
        for at in (place.allowable, place.yield_to)
        if at is not None
    ]
    assert max(limits) < 0.3
    assert max(loads) < 1.1 * max(limits)
