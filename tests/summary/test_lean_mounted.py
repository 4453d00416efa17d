"""Tilt and bow where the mating section makes the pull another: those of the mounted spring."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from springgeo.state import State
from tests.mounted import ASIDE, FREE, PIN, gate
from tests.springs import asked


def drawn(state: State) -> tuple[float, float]:
    """Return tilt, deg, and bow, mm, off the drawn wire, by dense points."""
    path, coils = state.centreline, 12
    (body,) = [(s, s + p.segment.length) for p, s in path if p.role == "body"]
    around = (body[1] - body[0]) / coils
    starts = np.linspace(body[0], body[1] - around, 2 * coils - 1)
    steps = around * (np.arange(600) + 0.5) / 600
    middle = np.array([path.point(s + steps).mean(axis=0) for s in starts])
    along = middle[-1] - middle[0]
    along /= np.linalg.norm(along)
    bow = np.linalg.norm(np.cross(middle - middle[0], along), axis=1).max()
    first, last = (path.point(np.array([s]))[0] for s in state.geometry.load_s)
    pull = (last - first) / np.linalg.norm(last - first)
    return float(np.degrees(np.arccos(min(1.0, abs(along @ pull))))), float(bow)


@pytest.mark.parametrize("styles", [(), ("hook-at-side", "english-loop")])
@pytest.mark.parametrize(
    ("mating", "service"),
    [
        (ASIDE, {"loads": [3.0, 25.0]}),
        (ASIDE, {"lengths": [40.0]}),
        (FREE, {"loads": [25.0]}),
        ({"first": PIN, "second": PIN, "down": "level"}, {"loads": [10.0]}),
    ],
    ids=["held", "held-at-a-length", "free", "heavy"],
)
def test_the_lean_is_that_of_the_mounted_wire(
    styles: tuple[str, ...], mating: dict[str, Any], service: dict[str, Any]
) -> None:
    made = gate(service, mating, *styles)
    told = asked(made).lean
    states = [*made.mounted(loads=service.get("loads", ()))] if "loads" in service else []
    states += [*made.mounted(lengths=service["lengths"])] if "lengths" in service else []
    assert len(told) == len(states)
    for lean, state in zip(told, states, strict=True):
        tilt, bow = drawn(state)
        assert lean.load == pytest.approx(state.load, rel=1e-9)
        assert lean.tilt == pytest.approx(tilt, abs=0.01)
        assert lean.bow == pytest.approx(bow, abs=3e-3)


def test_the_findings_say_which_of_both_they_tell() -> None:
    service, styles = {"loads": [10.0, 25.0]}, ("full-loop-at-side", "full-loop-at-side")
    straight, mounted = (asked(gate(service, m, *styles)) for m in (None, ASIDE))
    by = {f.code: f.message for f in mounted.findings}
    bow, tilt = max(x.bow for x in mounted.lean), max(x.tilt for x in mounted.lean)
    assert f"bows by up to {bow:.3g} mm" in by["pull-not-straight"]
    assert f"tilts by up to {tilt:.3g} deg" in by["pull-not-straight"]
    if "pull-off-axis" in by:
        assert by["pull-off-axis"].startswith("pulled straight, the ends do not pull")
        assert "leave room" not in by["pull-off-axis"]
    (told,) = (f.message for f in straight.findings if f.code == "pull-off-axis")
    assert "leave room for the bow" in told
    assert f"by up to {max(x.bow for x in straight.lean):.3g} mm" in told
