"""Every corner of the range a style states: the wire clears itself, in open bodies too."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from springgeo.curve import hook_approach
from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from springgeo.spring.geometry import assemble
from tests.gate import thinned

from .cases import body_end

PLAIN = registry.get("plain")


STYLES = list(registry.styles().values())


@pytest.mark.parametrize(
    ("style", "index", "pitch"),
    thinned(8, STYLES, [3.0, 4.6, 5.0, 5.4, 7.4, 25.0], [None, 2.0, 5.0]),
)
def test_every_corner(style: EndStyle, index: float, pitch: float | None) -> None:
    body = body_end(index, 1.0, pitch)
    ranges = style.ranges(body)
    corners = [dict(zip(ranges, ends, strict=True)) for ends in product(*ranges.values())]
    # what is left out is at its default, which must clear as well
    alone = [{name: end} for name, ends in ranges.items() for end in ends]
    for given in [*corners, *alone] if ranges else []:
        shape = style.shape(style.parameters(**given), body)
        g = assemble(body, 2.5, "right", shape, PLAIN.shape(PLAIN.parameters(), body))
        near = hook_approach(g.path, 1.0)
        assert near is None or near.distance >= 1 - 1e-9, (given, near)
        assert np.all(g.path.joint_angles() <= 1e-9)
