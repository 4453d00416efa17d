"""The wire diameter goes down the house to STEP, and is carried up where that is meant alone."""

from __future__ import annotations

from tests.way import climbs, moves


def test_from_yaml_to_step_the_diameter_climbs_back_twice_at_most() -> None:
    """A recorded formula calls the formula; the load curve calls what its summary was handed."""
    found = moves()
    rooms = {room for move in found for room in move}
    assert {"cli", "specification", "spring", "ends", "solid", "files"} <= rooms
    assert set(climbs(found)) <= {("worked", "mechanics"), ("equilibrium", "summary")}
