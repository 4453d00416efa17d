"""Two places whose margins cannot be told apart are both named; others are not."""

from __future__ import annotations

import pytest

from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import PLACES, AlongWire
from tests.springs import kept


def along(factor: float) -> AlongWire:
    """Return a spring whose hook bending is allowed ``factor`` times what makes margins equal."""
    spring = kept("gate-latch")
    book = Handbook(spring.model)
    wire = AlongWire(book)
    point = wire.point(20.0)
    equal = point.hook_bending * point.margin.body_shear
    allow = book.allowable.model_copy(update={"hook_bending": factor * equal, "hook_torsion": 1e9})
    book.__dict__["allowable"] = allow
    return AlongWire(book)


@pytest.mark.parametrize("factor", [1.0, 1.002, 0.998])
def test_close(factor: float) -> None:
    words = along(factor).point(20.0).verdict
    assert "too close to tell from" in words
    assert words.count("margin") == 2


@pytest.mark.parametrize("factor", [1.05, 0.95])
def test_apart(factor: float) -> None:
    words = along(factor).point(20.0).verdict
    assert "too close" not in words
    assert words.count("margin") == 1


def test_every_peak_says_how_far_it_may_be_off() -> None:
    for peak in kept("gate-latch").summary().along_the_wire.peaks:
        assert peak.near in ("smooth", "joint", "short bend", "beyond")
        assert peak.error_low < 0.0 < peak.error_high < 5.0
    assert set(PLACES) == {"body", "A", "B"}
