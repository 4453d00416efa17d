"""A hook that is left open as far as it can be has no tail, and wire all the same."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.curve import Path
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd


def test_a_square_hook_without_a_tail_is_wire() -> None:
    """By hand: the corner ends at 17 − 1.5 mm, the wire's side half a wire below it."""
    style = registry.get("long-square-end-hook")
    values = {"bend_radius": 2.0, "loop_radius": 1.5, "hook_length": 16.0, "opening": 15.0}
    with np.errstate(all="raise"):
        found = style.shape(style.parameters(**values), BodyEnd(1.0, 4.0, 1.003))
    path = Path(found.pieces)
    assert np.isfinite(path.point(np.linspace(0, path.length, 50))).all()
    assert found.opening == pytest.approx(15.0)
