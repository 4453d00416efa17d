"""Springs beside each other of which one is mounted out of line."""

from __future__ import annotations

from springgeo.comparing import compare
from tests.mounted import aside, gate


def test_the_loads_and_the_stop_as_mounted_stand_beside_the_straight_pulls() -> None:
    there, bare = aside({"loads": [5.0, 30.0]}), gate({"loads": [5.0, 30.0]})
    found = compare({"there": there, "bare": bare})
    rows = {r.key: r.values for r in found.rows}
    s = there.summary()
    assert s.pull.mounted is not None
    assert rows["pull.mounted.length"] == (s.pull.mounted.length, None)
    assert rows["pull.mounted.load"] == (s.pull.mounted.load, None)
    assert rows["mounted.-1.length"] == (s.mounted[-1].length, None)
    alone = compare({"a": bare, "b": gate({"loads": [5.0, 29.0]})})
    assert not [r.key for r in alone.rows if "mounted" in r.key]
