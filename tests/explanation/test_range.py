"""Whether a formula's range is kept: what the docstring says, held against what was put in."""

from __future__ import annotations

import pytest

from springgeo.explanation import Leaf, explained
from springgeo.explanation.quantities import Quantity
from springgeo.mechanics import hook, initial_tension
from springgeo.worked.docs import docs
from springgeo.worked.number import Worked, recorded, told


def _said(value: float) -> str:
    leaf = Leaf("x", value, None, "x", Quantity("stress", "a stress"))
    return str(explained(leaf))


@pytest.mark.parametrize(("index", "words"), [(8.0, "inside"), (3.0, "OUTSIDE"), (17.0, "OUTSIDE")])
def test_the_preferred_range_holds_from_4_to_16(index: float, words: str) -> None:
    """Shigley eq. 10-41: the charts behind it end there."""
    with recorded():
        found = initial_tension.preferred_shigley(told(index, "given", symbol="C")).middle
    assert isinstance(found, Worked)
    assert found.step.inside is (words == "inside")
    assert f"holds for C 4 to 16: {words}" in _said(found)


def test_a_range_with_an_open_end() -> None:
    about = docs(hook.K_B).arguments["C_2"]
    assert about.low == 1.0
    assert about.open_low
    assert not about.holds(1.0)
    assert about.holds(1.001)


def test_nothing_is_recorded_where_nobody_asks() -> None:
    assert type(hook.K_B(5.0)) is float
    with recorded():
        assert isinstance(hook.K_B(5.0), Worked)
    assert type(hook.K_B(5.0)) is float
