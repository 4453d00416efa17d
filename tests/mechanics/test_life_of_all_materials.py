"""What must hold of every wire at hand, for cycles and for spectra."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo import materials
from springgeo.mechanics import life, spectrum
from springgeo.mechanics.life import Endured
from springgeo.summary.fatigue.endured import PLACES, endured_places


@cache
def wires() -> tuple[tuple[str, float, bool, str], ...]:
    """Every material at the ends and in the middle of its table, both peened and not."""
    found = []
    for name in materials.names():
        m = materials.get(name)
        low, high = m.diameter_range
        for d in (low, (low * high) ** 0.5, high):
            found += [(name, d, peened, p) for peened in (False, True) for p in PLACES]
    return tuple(found)


@cache
def place(name: str, d: float, peened: bool, which: str) -> Endured:
    m = materials.get(name)
    return endured_places(m, d, float(m.tensile_minimum(np.array([d]))[0]), peened)[which]


places = st.sampled_from(wires()).map(lambda w: place(*w))
cycles = st.floats(0.0, 14.0).map(lambda x: 10.0**x)
high = st.floats(10.0, 1500.0)
# ranges of a spectrum: lowest over highest stress, its highest over the greatest, counts
ranges = st.lists(
    st.tuples(st.floats(0.0, 1.0), st.floats(0.05, 1.0), st.floats(0.0, 9.0)),
    min_size=1,
    max_size=4,
)


def cycle(top: float, R: float, N: float, p: Endured) -> float:
    return float(life.factor(top * (1 - R) / 2, top * (1 + R) / 2, N, p))


def of(parts: list[tuple[float, float, float]], top: float) -> tuple[np.ndarray, ...]:
    R, size, decades = (np.array(x) for x in zip(*parts, strict=True))
    size = size / size.max() * top
    return size * (1 - R) / 2, size * (1 + R) / 2, 10.0**decades


def test_there_are_many() -> None:
    assert len({w[0] for w in wires()}) == len(materials.names())
    assert any(np.isnan(cycle(500.0, 0.0, 1e6, place(*w))) for w in wires())
    assert any(not np.isnan(cycle(500.0, 0.0, 1e6, place(*w))) for w in wires())


@given(places, high, st.floats(0.0, 1.0), cycles, cycles)
def test_never_rises_with_cycles(p: Endured, top: float, R: float, N: float, M: float) -> None:
    few, many = (cycle(top, R, x, p) for x in sorted((N, M)))
    assert np.isnan(many) or many <= few * (1 + 1e-12)
    # what is not known for few is not known for many
    assert np.isnan(many) or not np.isnan(few)


@given(places, high, st.floats(0.0, 1.0), cycles)
def test_continuous_in_life(p: Endured, top: float, R: float, N: float) -> None:
    here, next_to = cycle(top, R, N, p), cycle(top, R, N * (1 + 1e-9), p)
    if not np.isnan(here) and not np.isnan(next_to):
        assert next_to == pytest.approx(here, rel=1e-8)


@given(places, high, cycles)
def test_the_static_margin_as_the_range_vanishes(p: Endured, top: float, N: float) -> None:
    found = cycle(top, 1 - 1e-9, N, p)
    if not np.isnan(found):
        assert found == pytest.approx(float(p.S_y) / top, rel=1e-7)


@given(places, high, ranges, st.integers(0, 3), st.floats(1.0, 100.0))
def test_a_spectrum_never_rises_with_counts_and_has_no_jumps(
    p: Endured, top: float, parts: list[tuple[float, float, float]], which: int, more: float
) -> None:
    s_a, s_m, counts = of(parts, top)
    here = float(spectrum.spectrum_factor(s_a, s_m, counts, p))
    i = which % len(counts)
    grown, nudged = counts.copy(), counts.copy()
    grown[i] *= more
    nudged[i] *= 1 + 1e-9
    after = float(spectrum.spectrum_factor(s_a, s_m, grown, p))
    assert np.isnan(after) or after <= here * (1 + 1e-9)
    near = float(spectrum.spectrum_factor(s_a, s_m, nudged, p))
    if not np.isnan(here) and not np.isnan(near):
        assert near == pytest.approx(here, rel=1e-7)


@given(places, high, ranges)
def test_a_spectrum_of_vanishing_ranges_is_static(
    p: Endured, top: float, parts: list[tuple[float, float, float]]
) -> None:
    s_a, s_m, counts = of([(1 - 1e-9, size, n) for _, size, n in parts], top)
    found = float(spectrum.spectrum_factor(s_a, s_m, counts, p))
    if not np.isnan(found):
        assert found == pytest.approx(float(p.S_y) / top, rel=1e-6)
    # never above the static margin
    s_a, s_m, counts = of(parts, top)
    found = float(spectrum.spectrum_factor(s_a, s_m, counts, p))
    assert np.isnan(found) or found <= float(p.S_y) / top * (1 + 1e-9)


@given(places, high, ranges)
def test_no_better_than_its_worst_range_and_no_worse_than_all_at_once(
    p: Endured, top: float, parts: list[tuple[float, float, float]]
) -> None:
    """Each range alone uses less than all; if each may use a share of m, all use up 1 at most."""
    s_a, s_m, counts = of(parts, top)
    found = float(spectrum.spectrum_factor(s_a, s_m, counts, p))
    m = len(counts)
    alone, shared = (
        [float(life.factor(a, b, n * k, p)) for a, b, n in zip(s_a, s_m, counts, strict=True)]
        for k in (1, m)
    )
    if not np.isnan(found):
        assert found <= min(x for x in alone if not np.isnan(x)) * (1 + 1e-7)
    if not np.isnan(shared).any():
        assert found >= min(shared) * (1 - 1e-7)
