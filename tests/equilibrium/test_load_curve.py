"""One curve from load to length and back: monotone, with its knee where the trade puts it."""

from __future__ import annotations

import numpy as np
import pytest

import springgeo as sg
from springgeo.ends import registry
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.newton import NotSettledError
from springgeo.equilibrium.prestress import measured
from springgeo.errors import SpecError
from tests.equilibrium.rods import curve_of, spring
from tests.gate import thinned

ALL = sorted(registry.styles())


@pytest.fixture(scope="module")
def centred() -> LoadCurve:
    return curve_of(spring("full-twisted-loop", coils=20.0))


@pytest.mark.parametrize(("style", "body"), thinned(2, ALL, [(8.0, 6.3), (12.0, 30.0)]))
def test_straight_part_meets_the_free_length(style: str, body: tuple[float, float]) -> None:
    """EN 13906-2, common practice: extended back, the straight part gives the initial tension."""
    D, coils = body
    curve = curve_of(spring(style, D=D, coils=coils))
    line = measured(Balance(curve.balance.rod), curve.initial_tension)
    if "side" in style:  # coils may still press on one side: the line is that of parted coils
        extensions = [p.extension for p in line.points]
    else:
        extensions = [curve.length(p.load) - curve.free_length for p in line.points]
    (x1, x2), (f1, f2) = extensions, [p.load for p in line.points]
    back = f1 - x1 * (f2 - f1) / (x2 - x1)
    assert back == pytest.approx(curve.initial_tension, rel=2e-4)
    assert curve.pressing > curve.initial_tension


# of the initial tension: below the knee, through it, beyond it
SHARES = {
    "below": [0.0, 0.02, 0.3, 0.7],
    "knee": [0.7, 0.95, 1.0, 1.1],
    "beyond": [1.1, 1.5, 3.0, 6.0],
}


@pytest.mark.parametrize(("style", "part"), thinned(3, ALL, list(SHARES)))
def test_rises_everywhere_and_answers_both_ways(style: str, part: str) -> None:
    curve = curve_of(spring(style, D=10.0, coils=8.0))
    loads = curve.initial_tension * np.array(SHARES[part])
    lengths = [curve.length(float(x)) for x in loads]
    assert (np.diff(lengths) > 0).all()
    for load, length in list(zip(loads, lengths, strict=True))[1::2]:
        assert curve.load(length) == pytest.approx(load, rel=1e-7, abs=1e-9)
    between = (lengths[-2] + lengths[-1]) / 2
    assert curve.length(curve.load(between)) == pytest.approx(between, abs=1e-7)


@pytest.mark.parametrize("share", [1e-4, 0.02, 0.5, 1.02, 2.0, 5.0])
def test_rate_is_the_slope(centred: LoadCurve, share: float) -> None:
    """Central differences; below F_i too, where the press of the coils is most of the force."""
    load = share * centred.initial_tension
    step = 1e-3 * load
    slope = 2 * step / (centred.length(load + step) - centred.length(load - step))
    assert centred.rate(load) == pytest.approx(slope, rel=1e-4 if share < 1.5 else 1e-6)


def test_knee(centred: LoadCurve) -> None:
    """Below the initial tension hooks give alone; round it the coils part; then the rate."""
    tension = centred.initial_tension
    d = centred.spring.geometry.wire_diameter
    assert 0.0 < centred.length(0.9 * tension) - centred.free_length < 0.4 * d
    assert centred.rate(0.8 * tension) > 10 * centred.rate(2 * tension)
    before, after = (centred.state(load=x * tension).contact.parted for x in (0.5, 1.5))
    assert not before.all()
    assert after.all()


def test_open_body_starts_at_once() -> None:
    curve = curve_of(spring("full-twisted-loop", pitch=1.2))
    assert curve.initial_tension == 0.0
    assert curve.rate(0.01) == pytest.approx(curve.rate(1.0), rel=0.01)


def test_touching_coils_without_tension() -> None:
    curve = curve_of(spring("hook-at-side", initial_tension=0.0))
    lengths = [curve.length(x) for x in (0.01, 0.1, 1.0, 5.0, 20.0)]
    assert (np.diff(lengths) > 0).all()
    assert curve.state(load=5.0).contact.gap.min() > -1e-4


@pytest.mark.parametrize("coils", [2.0, 2.5, 3.0])
def test_hardly_any_coils(coils: float) -> None:
    curve = curve_of(spring("machine-half-loop", coils=coils))
    lengths = [curve.length(x) for x in (0.5, 2.0, 5.0, 10.0, 30.0)]
    assert (np.diff(lengths) > 0).all()


def test_five_hundred_coils() -> None:
    curve = curve_of(spring("machine-half-loop", D=12.0, coils=500))
    assert curve.length(10.0) > curve.free_length
    assert curve.rate(10.0) > 0


def test_large_index_and_lead() -> None:
    curve = curve_of(spring("machine-half-loop", D=25.0, coils=8, pitch=5.0))
    length = curve.length(10.0)
    assert curve.load(length) == pytest.approx(10.0, rel=1e-7)


@pytest.mark.parametrize("load", [-1.0, float("nan"), float("inf")])
def test_no_load(centred: LoadCurve, load: float) -> None:
    with pytest.raises(SpecError, match="finite number"):
        centred.length(load)


def test_beyond_reach(centred: LoadCurve) -> None:
    with pytest.raises(SpecError, match="drawn straight"):
        centred.length(1e6)
    with pytest.raises(SpecError, match="drawn straight"):
        centred.load(10 * centred.longest)
    with pytest.raises(SpecError, match="would be loose"):
        centred.load(0.9 * centred.free_length)


def test_a_load_that_is_not_settled_is_not_said_to_straighten_the_wire(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Only from about G J/R² on is a coil nearly straight; what fails before fails otherwise."""
    curve = curve_of(spring("machine-half-loop"))
    most = curve.balance.most

    def lost(*_: object) -> None:
        raise NotSettledError("lost")

    monkeypatch.setattr(Balance, "at_load", lost)
    for load, code in ((0.1 * most, "no-equilibrium"), (0.9 * most, "beyond-straight-wire")):
        for _ in range(2):
            with pytest.raises(SpecError) as told:
                curve.solve(load)
            assert [f.code for f in told.value.findings] == [code]


def test_a_long_spring_hangs_still_on_next_to_nothing() -> None:
    """A pull of a five-hundredth of F_i: hooks alone give, in proportion (Hooke)."""
    made = sg.Spring.from_dict(
        {
            "wire": {"diameter": 3.8006, "shear_modulus": 50978.0, "elastic_modulus": 105879.0},
            "body": {"coils": 247.88, "mean_diameter": 38.006},
            "ends": {
                "first": {
                    "style": "full-twisted-loop",
                    "bend_radius": 6.843,
                    "loop_radius": 18.239,
                    "opening": 3.1685,
                },
                "second": {"style": "straight-annealed-end", "hook_length": 70.674},
                "angle": "30 deg",
            },
        }
    )
    found = [made.load_curve.solve(load).extension / load for load in (0.0987, 0.3)]
    assert found[0] == pytest.approx(found[1], rel=5e-3)
