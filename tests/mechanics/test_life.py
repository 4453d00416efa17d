"""The one fatigue model: what it must be for any stress, life and wire."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.mechanics import endurance, fatigue, life, spectrum
from springgeo.mechanics.life import Endured

# Shigley Table 10-8 for A228 and type 302, not peened: body, hook bending, hook torsion
TABLE = {
    "body": ((1e5, 0.36), (1e6, 0.33), (1e7, 0.30)),
    "A": ((1e5, 0.51), (1e6, 0.47), (1e7, 0.45)),
    "B": ((1e5, 0.34), (1e6, 0.30), (1e7, 0.28)),
}
STATIC = {"body": 0.45, "A": 0.75, "B": 0.40}

tensile = st.floats(1100.0, 2900.0)
stress = st.floats(0.0, 1200.0)
# a power of ten: from a single cycle to far beyond every table
cycles = st.floats(0.0, 14.0).map(lambda x: 10.0**x)
places = st.builds(
    lambda name, S_ut, table, peened: life.endured(
        TABLE[name] if table else (),
        S_ut,
        bending=name == "A",
        static=STATIC[name],
        zimmerli=True,
        peened=peened and S_ut > 1600,
    ),
    st.sampled_from(sorted(TABLE)),
    tensile,
    st.booleans(),
    st.booleans(),
)


def one(s_a: float, s_m: float, N: float, place: Endured) -> float:
    return float(life.factor(s_a, s_m, N, place))


@given(places, st.floats(0.1, 1200.0), stress, cycles, cycles)
def test_never_rises_with_cycles(p: Endured, s_a: float, s_m: float, N: float, M: float) -> None:
    few, many = sorted((N, M))
    assert one(s_a, s_m, many, p) <= one(s_a, s_m, few, p) * (1 + 1e-12)
    assert one(s_a, s_m, np.inf, p) <= one(s_a, s_m, many, p) * (1 + 1e-12)


@given(places, stress, stress, stress, cycles)
def test_never_rises_with_amplitude_or_mean(
    p: Endured, s_a: float, s_m: float, more: float, N: float
) -> None:
    least = one(s_a, s_m, N, p) * (1 + 1e-12)
    assert one(s_a + more, s_m, N, p) <= least
    assert one(s_a, s_m + more, N, p) <= least


@given(places, st.floats(1.0, 900.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0), cycles)
def test_a_lower_lowest_load_never_helps(
    p: Endured, high: float, x: float, y: float, N: float
) -> None:
    low, lower = high * max(x, y), high * min(x, y)
    wide = one((high - lower) / 2, (high + lower) / 2, N, p)
    assert wide <= one((high - low) / 2, (high + low) / 2, N, p) * (1 + 1e-12)


@given(places, st.floats(1.0, 900.0), st.floats(0.0, 0.999), cycles)
def test_continuous_in_life_and_in_range(p: Endured, high: float, R: float, N: float) -> None:
    s_a, s_m = high * (1 - R) / 2, high * (1 + R) / 2
    here = one(s_a, s_m, N, p)
    assert one(s_a, s_m, N * (1 + 1e-9), p) == pytest.approx(here, rel=1e-8)
    assert one(s_a * (1 + 1e-9), s_m, N, p) == pytest.approx(here, rel=1e-8)


@given(places, st.floats(1.0, 900.0), cycles)
def test_the_static_margin_as_the_range_vanishes(p: Endured, high: float, N: float) -> None:
    static = float(p.S_y) / high
    assert one(0.0, high, N, p) == pytest.approx(static, rel=1e-12)
    assert one(1e-9, high, N, p) == pytest.approx(static, rel=1e-8)
    for R in (0.0, 0.5, 0.9):
        assert one(high * (1 - R) / 2, high * (1 + R) / 2, N, p) <= static * (1 + 1e-12)


@pytest.mark.parametrize("name", TABLE)
@pytest.mark.parametrize("S_ut", [1500.0, 2115.0, 2800.0])
def test_a_load_from_zero_gives_the_table(name: str, S_ut: float) -> None:
    """Shigley Table 10-8: at its lives, R = 0, the factor is S_r over the highest stress."""
    p = life.endured(TABLE[name], S_ut, bending=name == "A", static=STATIC[name], zimmerli=True)
    for N, share in TABLE[name]:
        for high in (300.0, 700.0):
            assert one(high / 2, high / 2, N, p) == pytest.approx(share * S_ut / high, rel=1e-12)
            # the chapter's problems: S_e = (S_r/2)/(1 - (S_r/(2 S_u))^2), then Gerber
            S_e = endurance.S_e_from_repeated(share * S_ut, p.S_u)
            assert life.lines(N, p).gerber == pytest.approx(S_e, rel=1e-12)


def test_for_ever_is_the_lower_of_table_and_zimmerli() -> None:
    """A228, d 1.2 mm: S_se 334 MPa by the share at 1e7, 260 MPa by Zimmerli (Shigley 10-28)."""
    p = life.endured(TABLE["body"], 2115.0, bending=False, static=0.45, zimmerli=True)
    assert life.lines(1e7, p).gerber == pytest.approx(334.0, abs=0.5)
    S_sa, S_sm = endurance.zimmerli()
    zimmerli = endurance.S_e_gerber(S_sa, S_sm, p.S_u)
    assert zimmerli == pytest.approx(260.0, abs=0.5)
    assert life.lines(np.inf, p).gerber == pytest.approx(zimmerli, rel=1e-12)
    # in between, on the line of the last decade
    per_decade = 0.30 / 0.33
    assert life.S_r_at(2e7, p, 0) == pytest.approx(
        0.30 * 2115 * per_decade ** np.log10(2), rel=1e-12
    )
    weak = life.endured(TABLE["body"], 1500.0, bending=False, static=0.45, zimmerli=True)
    assert life.lines(np.inf, weak).gerber == pytest.approx(life.lines(1e7, weak).gerber)
    assert life.lines(1e7, weak).gerber < endurance.S_e_gerber(S_sa, S_sm, weak.S_u)


@given(tensile, st.floats(1.0, 400.0), st.floats(0.0, 600.0))
def test_without_a_table_zimmerli_holds_at_every_life(S_ut: float, s_a: float, s_m: float) -> None:
    p = life.endured((), S_ut, bending=False, static=0.45, zimmerli=True)
    S_sa, S_sm = endurance.zimmerli()
    gerber, goodman, static = (float(x) for x in life.factors(s_a, s_m, 1e5, p))
    S_e = endurance.S_e_gerber(S_sa, S_sm, p.S_u)
    assert gerber == pytest.approx(fatigue.n_f_gerber(s_a, s_m, S_e, p.S_u), rel=1e-9)
    S_e = endurance.S_e_goodman(S_sa, S_sm, p.S_u)
    assert goodman == pytest.approx(fatigue.n_f_goodman(s_a, s_m, S_e, p.S_u), rel=1e-9)
    assert one(s_a, s_m, 1e5, p) == min(gerber, goodman, static) == one(s_a, s_m, np.inf, p)


def test_no_published_data_no_number() -> None:
    nothing = life.endured((), 900.0, bending=False, static=0.35, zimmerli=False)
    assert np.isnan(one(50.0, 100.0, 1e5, nothing))
    assert np.isnan(one(0.0, 100.0, 1e5, nothing))
    # a table without strength for ever ends where it ends
    p = life.endured(TABLE["body"], 1800.0, bending=False, static=0.45, zimmerli=False)
    assert one(50.0, 100.0, 1e7, p) > 0
    assert np.isnan(one(50.0, 100.0, 1.1e7, p))
    # Zimmerli's highest stress, 620 MPa, is more than a wire of 900 MPa bears in shear
    weak = life.endured((), 900.0, bending=False, static=0.45, zimmerli=True)
    assert np.isnan(one(50.0, 100.0, 1e5, weak))


def test_a_table_whose_last_step_does_not_fall() -> None:
    flat = ((1e5, 0.36), (1e6, 0.33), (1e7, 0.33))
    p = life.endured(flat, 2115.0, bending=False, static=0.45, zimmerli=True)
    found = [one(300.0, 400.0, N, p) for N in (1e4, 1e6, 1e7, 1e9, np.inf)]
    assert found == sorted(found, reverse=True)
    assert life.S_r_at(1e7, p, 0) == pytest.approx(float(p.for_ever[0]))
    single = life.endured(((1e6, 0.33),), 2115.0, bending=False, static=0.45, zimmerli=True)
    assert one(300.0, 400.0, 1e3, single) == one(300.0, 400.0, np.inf, single)


def test_many_wires_at_once_are_each_by_itself() -> None:
    S_ut = np.array([[1300.0], [1900.0], [2500.0]])
    whole = life.endured(TABLE["B"], S_ut, bending=False, static=0.4, zimmerli=S_ut > 1400)
    ratio = np.array([0.0, 0.3, 0.9])
    for N in (1e4, 3e5, 1e7, 4e8, np.inf):
        found = life.factor((1 - ratio) / 2, (1 + ratio) / 2, N, whole)
        assert found.shape == (3, 3)
        for i, s in enumerate(S_ut[:, 0]):
            p = life.endured(TABLE["B"], s, bending=False, static=0.4, zimmerli=bool(s > 1400))
            alone = [one((1 - r) / 2, (1 + r) / 2, N, p) for r in ratio]
            np.testing.assert_allclose(found[i], alone, rtol=1e-12)


@given(places, st.floats(1.0, 900.0), st.floats(0.0, 0.98), st.floats(0.0, 12.0))
def test_one_range_of_a_spectrum_is_a_cycle(
    p: Endured, high: float, R: float, decade: float
) -> None:
    N = 10.0**decade
    s_a, s_m = high * (1 - R) / 2, high * (1 + R) / 2
    found = spectrum.spectrum_factor(np.array([s_a]), np.array([s_m]), np.array([N]), p)
    assert found == pytest.approx(one(s_a, s_m, N, p), rel=1e-6)


@given(places, st.floats(50.0, 800.0), st.floats(0.1, 1.0), st.floats(3.0, 9.0))
def test_more_in_a_spectrum_never_helps(
    p: Endured, high: float, share: float, decade: float
) -> None:
    s = np.array([high / 2, share * high / 2])
    counts = np.array([1e4, 10.0**decade])
    both = spectrum.spectrum_factor(s, s, counts, p)
    assert both <= spectrum.spectrum_factor(s[:1], s[:1], counts[:1], p) * (1 + 1e-9)
    assert spectrum.spectrum_factor(s, s, 3 * counts, p) <= both * (1 + 1e-9)
    assert spectrum.spectrum_factor(1.1 * s, s, counts, p) <= both * (1 + 1e-9)


def test_miners_sum_of_two_ranges() -> None:
    """Half the life of either: the sum is 1 (Miner's rule, Shigley sec. 6-15)."""
    p = life.endured(TABLE["body"], 2115.0, bending=False, static=0.45, zimmerli=True)
    S = np.array([0.345, 0.315]) * 2115.0
    lives = spectrum.life_at(S, p, 0)
    assert [float(life.S_r_at(N, p, 0)) for N in lives] == pytest.approx(S.tolist(), rel=1e-10)
    assert spectrum.damage(1.0, S / 2, S / 2, lives / 2, p) == pytest.approx(1.0, rel=1e-9)
    assert spectrum.spectrum_factor(S / 2, S / 2, lives / 2, p) == pytest.approx(1.0, rel=1e-6)
    # below the strength for ever nothing is used up; above the first life's strength all is
    assert spectrum.damage(1.0, np.array([100.0]), np.array([100.0]), np.array([1e15]), p) == 0
    assert spectrum.damage(1.0, np.array([400.0]), np.array([400.0]), np.array([1.0]), p) == np.inf


def test_a_spectrum_beyond_all_data_has_no_factor() -> None:
    p = life.endured(TABLE["body"], 1800.0, bending=False, static=0.45, zimmerli=False)
    s = np.array([10.0])
    assert np.isnan(spectrum.spectrum_factor(s, s, np.array([2e7]), p))
    nothing = life.endured((), 900.0, bending=False, static=0.35, zimmerli=False)
    assert np.isnan(spectrum.spectrum_factor(s, s, np.array([1.0]), nothing))


@given(places, st.floats(0.0, 0.999), cycles)
def test_the_charts_limit_is_where_the_factor_is_one(p: Endured, share: float, N: float) -> None:
    mean = share * float(p.S_y)
    a = float(life.allowed(mean, life.lines(N, p), p.S_u, p.S_y))
    assert one(a, mean, N, p) == pytest.approx(1.0, rel=1e-9)
