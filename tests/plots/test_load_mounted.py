"""Load over length where a spring is mounted: what is the straight pull, and what is not."""

from __future__ import annotations

import pytest

from springgeo.chart import Label, Line, Marks
from springgeo.plots.load_length import chart
from tests.mounted import ASIDE, FREE, aside, gate
from tests.springs import asked


def test_a_point_at_which_it_is_slack_pulled_straight_is_one_as_mounted_alone() -> None:
    """At 25 mm, below its 27.6 mm, it is taut between pins that stand aside."""
    s = asked(gate({"lengths": [25.0, 36.0]}, FREE))
    drawn = chart(s)
    marks = {i.role: i.points for i in drawn.items if isinstance(i, Marks)}
    assert list(marks["mounted"]) == [(p.length, p.load) for p in s.mounted]
    (straight,) = marks["point"]
    assert straight == (36.0, s.points[1].load)
    labels = [str(i.text) for i in drawn.items if isinstance(i, Label)]
    assert [x for x in labels if x.startswith("F1")] == []
    assert "0 N at 25" not in drawn.told


@pytest.mark.parametrize("mating", [ASIDE, FREE], ids=["held", "free"])
def test_the_straight_pull_is_drawn_as_far_as_it_is_used(mating: dict[str, object]) -> None:
    s = asked(gate({"lengths": [30.0, 36.0]}, mating))
    drawn = chart(s)
    for item in drawn.items:
        if isinstance(item, Line) and item.role in ("wire", "handbook"):
            assert max(y for _, y in item.points) == pytest.approx(s.points[-1].load, rel=1e-9)
            assert max(x for x, _ in item.points) < drawn.x.high


def test_pins_that_push_are_within_the_axes() -> None:
    s = asked(aside({"lengths": [27.8, 36.0]}))
    assert s.mounted[0].load < 0
    assert chart(s).y.low < s.mounted[0].load
