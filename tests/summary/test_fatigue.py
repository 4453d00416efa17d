"""The cycle in the summary: one model through the specification, for cycles and for spectra."""

from __future__ import annotations

from typing import Any

import pytest

import springgeo as sg
from springgeo.errors import SpecError
from springgeo.results.fatigue import Fatigue
from tests.springs import summary_of

BASE: dict[str, Any] = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"index": 8, "coils": 6, "initial_stress": 100},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
}


def cycle(material: str = "astm-a228", **service: Any) -> Fatigue:
    service = {"duty": "cyclic", **service}
    data = {**BASE, "wire": {"material": material, "diameter": 1.2}, "service": service}
    found = summary_of(data).fatigue
    assert found is not None
    return found


def margin(*args: Any, **service: Any) -> float:
    found = cycle(*args, **service).margin
    assert found is not None
    return found


def test_more_cycles_never_raise_the_margin() -> None:
    lives = [1e3, 1e5, 2e5, 1e6, 9.99e6, 1e7, 1.001e7, 2e7, 1e9, 1e12]
    found = [margin(loads=[10, 30], cycles=N) for N in lives]
    found.append(margin(loads=[10, 30], duty="infinite"))
    assert found == sorted(found, reverse=True)
    assert found[5] == pytest.approx(found[6], rel=1e-3)  # across the table's last life


@pytest.mark.parametrize("cycles", [1e5, 1e6, 1e7, 1e8])
def test_the_lowest_load_matters(cycles: float) -> None:
    found = [margin(loads=[low, 30], cycles=cycles) for low in (5, 12, 20, 26)]
    assert found == sorted(found)
    assert found[-1] > 1.1 * found[0]


def test_a_range_that_vanishes_leaves_the_static_margin() -> None:
    spring = summary_of({**BASE, "service": {"loads": [30]}})
    static = min(
        value
        for p in (spring.points[0], spring.along_the_wire.points[0])
        for value in p.margin.model_dump().values()
    )
    found = cycle(loads=[30 - 1e-7, 30], cycles=1e6)
    assert found.margin == pytest.approx(static, rel=1e-6)
    name, way = found.governing.split(" ", 1)
    places = found.handbook if way == "(handbook)" else found.along_the_wire
    assert places[name].decides == "static"


def test_a_load_from_zero_is_held_against_the_table() -> None:
    """Shigley Table 10-8, A228: 33 % body, 47 % hook bending, 30 % hook torsion at 1e6."""
    found = cycle(loads=[0, 30], cycles=1e6)
    for places in (found.handbook, found.along_the_wire):
        for name, share in (("hook_bending", 0.47), ("hook_torsion", 0.30)):
            p = places[name]
            strength = p.static_strength / {"hook_bending": 0.75, "hook_torsion": 0.40}[name]
            assert p.repeated_strength == pytest.approx(share * strength, rel=1e-12)
            expected = min(share * strength / (2 * p.mean), p.static_strength / (2 * p.mean))
            assert p.factor == pytest.approx(expected, rel=1e-12)
            assert p.life_table == pytest.approx(share * strength / (2 * p.mean), rel=1e-12)
            row = p.by_life[1]
            half = share * strength / 2
            assert row.cycles == 1e6
            assert row.endurance == pytest.approx(half / (1 - (half / p.ultimate) ** 2))
            assert row.gerber == pytest.approx(share * strength / (2 * p.mean), rel=1e-12)


def test_a_material_without_data_has_no_number() -> None:
    found = cycle("astm-b159", loads=[5, 8], cycles=1e6)
    assert found.margin is None
    assert "no published fatigue data" in found.method
    for p in found.along_the_wire.values():
        assert (p.factor, p.repeated_strength, p.life_gerber) == (None, None, None)
        assert p.decides == "not known"


def test_one_range_of_a_spectrum_is_a_cycle() -> None:
    whole = cycle(spectrum=[{"loads": [10, 30], "count": 3e6}])
    assert whole.margin == pytest.approx(margin(loads=[10, 30], cycles=3e6), rel=1e-6)
    assert whole.cycles == 3e6
    assert len(whole.spectrum) == 1


def test_a_spectrum_is_summed_by_miners_rule() -> None:
    parts = [
        {"loads": [10, 30], "count": 1e6},
        {"loads": [5, "38 N"], "count": 2e4},
    ]
    both = cycle(spectrum=parts)
    assert both.margin is not None
    for part in parts:
        assert both.margin <= margin(spectrum=[part]) * (1 + 1e-9)
    name, way = both.governing.split(" ", 1)
    p = (both.handbook if way == "(handbook)" else both.along_the_wire)[name]
    assert p.damage is None or (p.damage <= 1) == (both.margin >= 1)
    more = cycle(spectrum=[*parts, {"loads": [10, 20], "count": 10}])
    assert more.margin == pytest.approx(both.margin, rel=1e-6)  # endured for ever


def test_a_spectrum_by_lengths_and_its_ends_as_working_points() -> None:
    data = {**BASE, "service": {"duty": "cyclic", "spectrum": [{"lengths": [50, 60], "count": 5}]}}
    s = summary_of(data)
    assert s.fatigue is not None
    assert [p.length for p in s.points] == pytest.approx([50, 60])
    assert [p.load for p in s.points] == pytest.approx([s.fatigue.load_low, s.fatigue.load_high])


@pytest.mark.parametrize(
    ("service", "code"),
    [
        ({"spectrum": [{"loads": [1, 2], "count": 5}]}, "spectrum-duty"),
        ({"duty": "cyclic", "cycles": 5, "spectrum": [{"loads": [1, 2], "count": 5}]}, "two-forms"),
        ({"duty": "cyclic", "spectrum": [{"loads": [2, 1], "count": 5}]}, "range-falling"),
        ({"duty": "cyclic", "spectrum": [{"count": 5}]}, "missing-alternative"),
        (
            {"duty": "cyclic", "spectrum": [{"loads": [1, 2], "lengths": [9, 9], "count": 5}]},
            "two-forms",
        ),
        ({"duty": "cyclic", "spectrum": [{"loads": [1, 2], "count": "nan"}]}, ""),
        ({"duty": "cyclic", "spectrum": [{"loads": [1, 2], "count": -1}]}, "count-too-small"),
        ({"duty": "cyclic", "spectrum": [{"loads": [1, 2], "count": 1e300}]}, "count-too-large"),
        ({"duty": "cyclic"}, "cycles-missing"),
        ({"cycles": 2e5}, "cycles-duty"),
        ({"duty": "infinite", "cycles": 2e5}, "two-forms"),
    ],
)
def test_spectra_that_make_no_sense(service: dict[str, Any], code: str) -> None:
    with pytest.raises(SpecError) as caught:
        sg.Spring.from_dict({**BASE, "service": service})
    assert any(code in f.code for f in caught.value.findings)


@pytest.mark.parametrize("order", [1, -1])
def test_of_a_spectrum_the_range_that_comes_out_worst_alone_is_shown(order: int) -> None:
    mild, hard = [14, 18], [12, 28]
    ranges = [{"loads": x, "count": 1e5} for x in (mild, hard)][::order]
    found = cycle(spectrum=ranges).handbook
    alone = cycle(loads=hard, cycles=2e5).handbook
    for name, place in found.items():
        assert place.alternating == pytest.approx(alone[name].alternating)
        assert place.mean == pytest.approx(alone[name].mean)
