"""What the desk shows of a spring that is not pulled straight where it is mounted."""

from __future__ import annotations

from typing import Any

import pytest

from springgeo.desk import explore
from springgeo.desk.numbers import whole
from springgeo.desk.shape import shape
from springgeo.text.shown import PLAIN
from tests.mounted import ASIDE, FREE, aside, gate
from tests.springs import asked


@pytest.mark.parametrize("mating", [ASIDE, FREE], ids=["held", "free"])
@pytest.mark.parametrize("service", [{"loads": [0.0, 8.0, 25.0]}, {"lengths": [38.0]}])
def test_its_rows_are_those_of_the_summary(service: dict[str, Any], mating: dict[str, Any]) -> None:
    made = gate(service, mating)
    s, found = made.summary(), whole(made, PLAIN)
    rows = {r["key"]: r["value"] for r in found["rows"]}
    first = 1 + len(s.points) - len(s.mounted)
    for i, p in enumerate(s.mounted, start=first):
        assert rows[f"there.load.{i}"] == p.load
        assert rows[f"there.length.{i}"] == p.length
        assert rows[f"there.{i}.hook_bending"] == p.margin.hook_bending
        # beside those of the straight pull, under one heading
        assert f"load.{i}" in rows
    assert f"there.load.{first - 1}" not in rows
    assert found["points"] == [[p.load, p.length] for p in s.mounted]


@pytest.mark.parametrize("rough", [True, False])
def test_its_shape_is_that_as_mounted_and_says_so(rough: bool) -> None:
    made = aside({"loads": [5.0, 30.0]}, offset=8.0)
    found: Any = shape(made, 30.0, PLAIN, rough=rough)
    p = asked(made).mounted[-1]
    assert found["load"] == p.load == 30.0
    assert found["length"] == pytest.approx(p.length, rel=1e-9)
    assert found["way"] == "mounted"
    a, b = (found["view"]["contacts"][0][k : k + 3] for k in (0, 3))
    assert abs(b[0] - a[0]) == pytest.approx(8.0, abs=1e-2)
    free: Any = shape(made, 0.0, PLAIN, rough=rough)
    assert (free["load"], free["length"]) == (0.0, made.free_length)
    bare: Any = shape(gate({"loads": [30.0]}), 30.0, PLAIN, rough=rough)
    assert bare["way"] == ""


def test_variants_beside_each_other_say_that_they_are_pulled_straight() -> None:
    made = aside({"loads": [5.0, 30.0]})
    found: Any = explore._state(made, 0.2, PLAIN)
    assert found["way"] == "straight"
    assert found["points"] == [[p.load, p.length] for p in asked(made).along_the_wire.points]
    assert explore._state(gate({"loads": [30.0]}), 0.2, PLAIN)["way"] == ""
