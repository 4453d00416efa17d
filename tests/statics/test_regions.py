"""Where body, bend and loop meet: which wire counts to what, from both sides of each border."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.statics.regions import REGIONS, region_of

D = 2.0


def place(path, s, piece):
    return REGIONS[int(region_of(path, np.array([s]), np.array([piece]), D)[0])]


@pytest.mark.parametrize("leg", [0.0, 3.0])
@pytest.mark.parametrize("far", [False, True])
def test_coil_beside_a_bend_counts_to_the_bend(hooked_spring, leg, far):
    path, _ = hooked_spring(D, 8.0, 2.1, 6.0, 4.0, leg)
    body = next(i for i, p in enumerate(path.pieces) if p.role == "body")
    start, end = path.starts[body], path.starts[body + 1]
    # bending of the hook has faded in the coil after one and a half wire diameters
    for at, inner in ((start, 1.0), (end, -1.0)):
        off = D * (1.51 if far else 1.49)
        assert place(path, at + inner * off, body) == ("body" if far else "B")


def test_of_a_short_body_no_more_than_a_quarter_counts_to_each_bend(hooked_spring):
    path, _ = hooked_spring(D, 1.0, 2.1, 1.0, 0.9, 0.0)
    body = next(i for i, p in enumerate(path.pieces) if p.role == "body")
    start, end = path.starts[body], path.starts[body + 1]
    assert (end - start) / 4 < 1.5 * D
    assert place(path, start + 0.26 * (end - start), body) == "body"
    assert place(path, start + 0.24 * (end - start), body) == "B"


@pytest.mark.parametrize("far", [False, True])
def test_the_end_of_a_bend_counts_to_the_loop_it_joins(hooked_spring, far):
    path, _ = hooked_spring(D, 8.0, 2.1, 6.0, 4.0, 0.0)
    roles = [p.role for p in path.pieces]
    reach = D * (0.061 if far else 0.059)
    first, last = roles.index("bend"), len(roles) - 1 - roles[::-1].index("bend")
    assert roles[first - 1] == roles[last + 1] == "loop"
    assert place(path, path.starts[first] + reach, first) == ("B" if far else "A")
    assert place(path, path.starts[last + 1] - reach, last) == ("B" if far else "A")


def test_a_bend_that_joins_straight_wire_stays_a_bend(hooked_spring):
    path, _ = hooked_spring(D, 8.0, 2.1, 6.0, 4.0, 3.0)
    bend = next(i for i, p in enumerate(path.pieces) if p.role == "bend")
    assert place(path, path.starts[bend] + 0.01 * D, bend) == "B"
    assert place(path, path.starts[bend] - 0.01 * D, bend - 1) == "elsewhere"
