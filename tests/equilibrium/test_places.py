"""Where coils touch between the nodes: no wire in another, a knee that more cells do not move."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.curve import body_approach, hook_approach
from springgeo.curve.frame import Array
from springgeo.curve.motion import rotation
from springgeo.curve.strained import Strained
from springgeo.equilibrium.balance import Balance
from springgeo.equilibrium.contact.pressing import BLOCKS, _turned, pressing
from springgeo.equilibrium.contact.stand import PLACES, Stand
from springgeo.equilibrium.hung import rod
from springgeo.equilibrium.prestress import wound
from tests.equilibrium.rods import curve_of, spring

ROLLING = [
    ("hook-at-side", 7.5, 8.95, 1.04),
    ("small-eye-at-side", 10.0, 8.3, 1.2),
    ("full-loop-at-side", 15.5, 2.2, 0.65),
]


@pytest.mark.parametrize(("style", "D", "coils", "share"), ROLLING)
def test_coils_that_roll_on_one_side_stay_out_of_each_other(
    style: str, D: float, coils: float, share: float
) -> None:
    made = spring(style, D=D, coils=coils)
    state = made.at(load=share * made.load_curve.pressing)
    near = body_approach(state.geometry.path)
    assert near is not None
    assert near.distance >= 1.0 - 1e-4


@pytest.mark.parametrize("style", ["machine-half-loop", "full-loop-at-side"])
def test_more_cells_do_not_move_the_knee(style: str) -> None:
    curve = curve_of(spring(style, D=12.0, coils=8))
    tension = curve.initial_tension
    for share in (0.3, 0.6, 1.0, 1.6):
        found = []
        for fineness in (1.0, 2.0):
            drawn = rod(curve.spring, curve.turning, fineness)
            balance = Balance(wound(drawn, tension)[0])
            found.append(balance.at_load(share * tension).extension)
        assert found[0] == pytest.approx(found[1], rel=6e-3)


def test_slopes_of_the_pressing_are_its_changes() -> None:
    """Central differences of gaps and forces, coils turned and shifted at random."""
    curve = curve_of(spring("hook-at-side", D=7.0, coils=4.3))
    held, rng = curve.balance.rod, np.random.default_rng(1)
    n = len(held.drawn.R)
    R = held.drawn.R @ rotation(0.05 * rng.normal(size=(n, 3)))
    p = held.drawn.p + 0.05 * rng.normal(size=(n, 3))
    trial = held.law.scale * (1 + rng.random(len(held.pairs)))
    stand = Stand.of(held.pairs, R, p)
    found = pressing(stand, held.law, trial)
    borne = held.pairs.part * held.law.awake(_by_rows(trial), _by_rows(held.pairs.gaps(R, p)))
    way, step = rng.normal(size=(n, 6)), 1e-6
    gaps, loads = [], []
    for sign in (1, -1):
        moved = R @ rotation(sign * step * way[:, 3:])
        along = p + sign * step * np.einsum("nij,nj->ni", R, way[:, :3])
        there = Stand.of(held.pairs, moved, along)
        gaps.append(there.gap)
        loads.append(np.einsum("xipk,pk->xik", there.opens, borne))
    twist = np.einsum("xki->xik", way[found.nodes])
    opened = np.einsum("xipk,xik->pk", found.opens, twist)
    assert (gaps[0] - gaps[1]) / (2 * step) == pytest.approx(opened, abs=1e-7)
    assert found.step(way) == pytest.approx(found.slope * opened, rel=1e-12)
    turned = _times(_turned(stand, borne), twist)
    assert (loads[0] - loads[1]) / (2 * step) == pytest.approx(turned, abs=1e-7)
    stiff = held.pairs.part * found.slope * opened
    bent = np.einsum("xipk,pk->xik", found.opens, stiff)
    assert _times(found.tangent, twist) == pytest.approx(turned + bent, rel=1e-10, abs=1e-6)


def _by_rows(places: Array) -> Array:
    return places.reshape(-1, PLACES).T


def _times(blocks: Array, twist: Array) -> Array:
    """Return how forces on the nodes change with their twists, ``(4, 6, k)``."""
    out = np.zeros_like(twist)
    for block, (x, y) in zip(blocks, BLOCKS, strict=True):
        out[x] += np.einsum("ijk,jk->ik", block, twist[y])
        if x != y:
            out[y] += np.einsum("jik,jk->ik", block, twist[x])
    return out


ONE_BY_ONE = [
    ("hook-at-side", {"D": 23.7, "coils": 3.055, "initial_stress": 20.5}, 1.75),
    ("small-eye-at-side", {"D": 15.53, "coils": 4.934, "initial_stress": 47.7}, 1.45),
]


@pytest.mark.parametrize(("style", "body", "share"), ONE_BY_ONE)
def test_coils_that_part_one_by_one_are_found(
    style: str, body: dict[str, float], share: float
) -> None:
    """About the load at which the last of them part: from above, where they are all apart."""
    curve = curve_of(spring(style, **body))
    before = 0.0
    for step in (0.9, 1.0, 1.1, 1.3):
        found = curve.solve(step * share * curve.pressing)
        assert found.extension > before
        before = found.extension


@pytest.mark.parametrize("style", ["machine-half-loop", "full-loop-at-side", "english-loop"])
@pytest.mark.parametrize("share", [0.5, 1.3, 4.0])
def test_what_is_near_below_a_limit_is_what_is_near(style: str, share: float) -> None:
    made = spring(style, D=8.0, coils=9.0)
    path = made.at(load=share * made.load_curve.pressing).geometry.path
    for search in (body_approach, lambda path, *below: hook_approach(path, 1.0, *below)):
        near = search(path)
        if near is None:
            continue
        assert search(path, near.distance * (1 - 1e-9)) is None
        found = search(path, near.distance * 1.01)
        assert found is not None
        assert found.distance == pytest.approx(near.distance, rel=1e-11)


def test_nearest_turns_are_those_of_all_places_each_on_its_way() -> None:
    """Against places of all steps, each by golden section; loaded at the side: coils lean."""
    made = spring("full-loop-at-side", D=9.0, coils=5.3)
    path = made.at(load=2.0 * made.load_curve.pressing).geometry.path
    (coils,) = (p.segment for p in path.pieces if p.role == "body")
    assert isinstance(coils, Strained)
    s, place, _ = coils.steps
    turn = 2 * np.pi * 4.5
    t = s[:, None] + np.linspace(0.8, 1.2, 401) * turn
    inside = t[:, -1] < coils.length
    s, place, t = s[inside], place[inside], t[inside]
    for _ in range(4):
        there = coils.point(t.ravel()).reshape(*t.shape, 3)
        apart = np.linalg.norm(there - place[:, None], axis=2)
        middle = t[np.arange(len(t)), apart.argmin(axis=1)]
        step = 2 * (t[:, 1] - t[:, 0])
        t = middle[:, None] + step[:, None] * np.linspace(-1, 1, 41)
    found = body_approach(path)
    assert found is not None
    assert found.distance == pytest.approx(float(apart.min()), rel=1e-8)
