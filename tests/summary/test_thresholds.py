"""Where a remark begins, from both sides; what pressed coils and a single load are judged by."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import springgeo as sg
from springgeo.mechanics import body
from springgeo.results.handbook import InitialTension
from springgeo.results.summary import Summary
from springgeo.summary.handbook import Handbook
from tests.springs import asked, made

JUST = 2e-3
STYLES = ("machine-half-loop", "full-twisted-loop", "raised-hook", "reduced-half-loop", "plain")


def spring(
    a: Any = "machine-half-loop", b: Any = "machine-half-loop", **changes: dict[str, Any]
) -> sg.Spring:
    ends = [e if isinstance(e, dict) else {"style": e} for e in (a, b)]
    data: dict[str, Any] = {
        "wire": {"material": "astm-a228", "diameter": 1.2, **changes.get("wire", {})},
        "body": {"index": 8, "coils": 5, "initial_stress": 100, **changes.get("body", {})},
        "ends": {"first": ends[0], "second": ends[1]},
        "service": {"loads": [15, 25], **changes.get("service", {})},
    }
    if "initial_tension" in data["body"]:
        del data["body"]["initial_stress"]
    return made(data)


def summary(*ends: Any, **changes: dict[str, Any]) -> Summary:
    return asked(spring(*ends, **changes))


def tension(*ends: Any, **changes: dict[str, Any]) -> InitialTension:
    return Handbook(spring(*ends, **changes).model).initial_tension


def codes(s: Summary) -> set[str]:
    return {f.code for f in s.findings}


@pytest.mark.parametrize("side", [-1, 1])
def test_resonance_within_fifteen_times_the_forcing(side: int) -> None:
    """Shigley sec. 10-8 (from memory): the spring's own frequency 15 to 20 times the forcing."""
    own = summary().dynamics.natural_frequency_both_held
    forcing = own / 15 * (1 + side * JUST)
    found = codes(summary(service={"forcing_frequency": forcing}))
    assert ("resonance" in found) == (side > 0)


@pytest.mark.parametrize("side", [-1, 1])
@pytest.mark.parametrize("edge", ["low", "high"])
def test_tension_outside_the_preferred_range(side: int, edge: str) -> None:
    preferred = tension()
    limit = preferred.preferred_low if edge == "low" else preferred.preferred_high
    assert limit is not None
    s = summary(body={"initial_stress": limit * (1 + side * JUST)}, service={"loads": [40]})
    outside = (side < 0) == (edge == "low")
    assert ("initial-tension-outside-preferred" in codes(s)) == outside
    if outside:
        where = "below" if edge == "low" else "above"
        assert any(where in f.message for f in s.findings if "outside" in f.code)


@pytest.mark.parametrize(
    ("code", "body_change", "side"),
    [
        # EN 13906-2: n >= 3 (read)
        ("few-coils", {"coils": 3 * (1 + JUST)}, 1),
        ("few-coils", {"coils": 3 * (1 - JUST)}, -1),
        # index 4 to 16: a spring maker's sheet (read)
        ("index-unusual", {"index": 4 * (1 + JUST)}, 1),
        ("index-unusual", {"index": 4 * (1 - JUST)}, -1),
        ("index-unusual", {"index": 16 * (1 - JUST), "initial_stress": 30}, 1),
        ("index-unusual", {"index": 16 * (1 + JUST), "initial_stress": 30}, -1),
    ],
)
def test_limits_of_the_trade(code: str, body_change: dict[str, Any], side: int) -> None:
    assert (code in codes(summary(body=body_change))) == (side < 0)


@pytest.mark.parametrize("side", [-1, 1])
def test_a_bend_below_one_and_a_half_wire_diameters(side: int) -> None:
    """Public glossary of spring terms (read): a bend radius of 1.5 d at least."""
    end = {"style": "machine-half-loop", "bend_radius": 1.2 * 1.5 * (1 + side * JUST)}
    assert ("bend-radius-small" in codes(summary(end))) == (side < 0)


@pytest.mark.parametrize("side", [-1, 1])
def test_a_load_must_exceed_the_initial_tension(side: int) -> None:
    force = summary().initial_tension.force
    s = summary(service={"loads": [force * (1 + side * JUST), 25]})
    assert ("load-below-initial-tension" in codes(s)) == (side < 0)


def test_a_load_that_equals_the_initial_tension_opens_nothing() -> None:
    s = summary(body={"initial_tension": 10.0}, service={"loads": [10.0, 25]})
    assert "load-below-initial-tension" in codes(s)
    # and what is said of it is what the curve does
    assert 0.0 < s.points[0].deflection < 0.2 * s.points[1].deflection


def test_a_straight_line_off_by_more_than_the_load_tolerance_is_said() -> None:
    """EN 13906-2: the straight line F_i + k s; held against the load curve's load at a length."""
    found = set()
    for style, coils in (("raised-hook", 6), ("raised-hook", 20), ("full-loop-at-side", 8)):
        s = summary(style, style, body={"coils": coils})
        force, off = s.initial_tension.force, False
        for p, told in zip(s.points, s.load_line.along_the_wire[2:], strict=True):
            straight = force + s.rate * p.deflection
            off |= p.load > force and (abs(straight / p.load - 1) > told.tolerance_percent / 100)
        assert off == ("handbook-line-off" in codes(s))
        found.add(off)
    assert found == {True, False}


@settings(max_examples=12, deadline=None)
@given(
    st.sampled_from(STYLES),
    st.floats(0.02, 0.999),
    st.floats(4.5, 14),
    st.floats(40.0, 160.0),
)
def test_pressed_coils_keep_what_they_were_wound_with(
    style: str, share: float, index: float, stress: float
) -> None:
    """Below F_i hooks alone give and the body keeps the stress of F_i; hooks feel the load alone.

    Shigley sec. 10-11: the coils open only above the initial tension.
    """
    change = {"index": index, "initial_stress": stress}
    force = tension(style, body=change).force
    s = summary(style, body=change, service={"loads": [share * force, force]})
    # along the wire hooks turn a little, and outer coils part before F_i
    for points, close in ((s.points, 1e-9), (s.along_the_wire.points, 0.08)):
        low, at = points[0], points[1]
        assert low.body_shear == pytest.approx(at.body_shear, rel=close)
        assert 0.0 < low.deflection < at.deflection
        # the coils themselves do not open: hooks give less than the spring would at its rate
        assert low.deflection < low.load / s.rates.small_load
        if low.hook_bending is not None:
            assert low.hook_bending == pytest.approx(share * at.hook_bending, rel=close)
    # 8 K_B F_i D/(pi d^3), Shigley eq. 10-7 with 10-5
    g = s.geometry
    wound = float(body.K_B(g.index)) * 8 * force * g.mean_diameter / (math.pi * g.wire_diameter**3)
    assert s.points[0].body_shear == pytest.approx(wound, rel=1e-9)


@settings(max_examples=8, deadline=None)
@given(st.sampled_from(STYLES[:4]), st.floats(1.2, 6.0), st.booleans())
def test_a_single_load_cycles_from_the_initial_tension(
    style: str, times: float, by_length: bool
) -> None:
    """One load says nothing of the lower one: the coils close at F_i, and no lower is felt."""
    base = summary(style)
    force = base.initial_tension.force
    high = force * times
    service: dict[str, Any] = {"loads": [high], "duty": "infinite"}
    if by_length:
        length = sg.Spring.from_dict(base.specification).at(load=high).length
        service = {"loads": [], "lengths": [length], "duty": "infinite"}
    f = summary(style, service=service).fatigue
    assert f is not None
    assert f.load_low == pytest.approx(force, rel=1e-9)
    assert f.load_high == pytest.approx(high, rel=2e-2)
    place = f.handbook["body_shear"]
    assert place.alternating > 0
    s_min, s_max = place.mean - place.alternating, place.mean + place.alternating
    assert s_min / s_max == pytest.approx(force / f.load_high, rel=1e-9)


def test_a_single_load_below_the_initial_tension_moves_nothing() -> None:
    force = summary().initial_tension.force
    f = summary(service={"loads": [0.5 * force], "duty": "infinite"}).fatigue
    assert f is not None
    assert f.load_low == f.load_high == pytest.approx(0.5 * force)
    assert f.handbook["body_shear"].alternating == 0.0


def test_the_frequency_is_that_of_rate_and_mass() -> None:
    """EN 13906-1 (from memory): f = 3560 d/(n D²) √(G/ρ), ρ in kg/dm³."""
    s = summary()
    book = Handbook(sg.Spring.from_dict(s.specification).model)
    g, G = s.geometry, s.material.shear_modulus
    own = 3560 * g.wire_diameter / (s.active_coils * g.mean_diameter**2) * math.sqrt(G / 7.85)
    assert book.natural_frequency == pytest.approx(own, rel=1e-3)
    assert s.dynamics.natural_frequency_one_free == pytest.approx(own / 2, rel=1e-3)
