"""Wire sizes: two public gauge tables and the series of the standards."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.errors import SpecError
from springgeo.materials import sizes


@pytest.mark.parametrize("name", sizes.series_names())
def test_series_ascend(name: str) -> None:
    assert np.all(np.diff(sizes.series(name)) > 0)


def test_how_many() -> None:
    assert {n: len(sizes.series(n)) for n in sizes.series_names()} == {
        "en-iso": 89,
        "metric-preferred": 44,
        "music-wire-gauge": 51,
        "steel-wire-gauge": 44,
    }


@pytest.mark.parametrize(
    ("name", "label", "inches"),
    [
        ("music-wire-gauge", "6/0", 0.004),
        ("music-wire-gauge", 0, 0.009),
        ("music-wire-gauge", "45", 0.180),
        ("music-wire", "12", 0.029),
        ("steel-wire-gauge", "7/0", 0.490),
        ("steel-wire-gauge", 18, 0.0475),
        ("steel-wire-gauge", "37", 0.0085),
    ],
)
def test_gauges(name: str, label: str | int, inches: float) -> None:
    assert sizes.gauge(name, label) == pytest.approx(inches * 25.4)


def test_refusals() -> None:
    with pytest.raises(SpecError, match="did you mean 'en-iso'"):
        sizes.series("en_iso")
    with pytest.raises(SpecError, match="6/0 to 45"):
        sizes.gauge("music-wire-gauge", "99")
    with pytest.raises(SpecError, match="no gauge numbers"):
        sizes.gauge("en-iso", "1")
