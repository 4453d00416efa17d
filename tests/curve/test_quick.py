"""The quick box and approach against the plain ones, for every end style on random springs."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo import Spring
from springgeo.curve import Path, hook_approach, tube_box
from springgeo.curve.frame import rotation_z
from springgeo.ends import registry
from springgeo.errors import SpecError
from tests.curve import plain
from tests.gate import thinned

STYLES = sorted(registry.names())


def springs(style: str, count: int, seed: int) -> list[Spring]:
    """Return springs that can be made, with this end at A and another at B, free and loaded."""
    rng = np.random.default_rng([seed, STYLES.index(style)])
    found: list[Spring] = []
    for _ in range(20 * count):
        d = float(rng.uniform(0.3, 4))
        body = {
            "mean_diameter": d * float(rng.uniform(5, 14)),
            "coils": float(rng.uniform(2.5, 60)),
            "hand": ["left", "right"][rng.integers(2)],
            "initial_stress": 60,
        }
        other = STYLES[rng.integers(len(STYLES))]
        try:
            spring = Spring.from_dict(
                {
                    "wire": {"diameter": d},
                    "body": body,
                    "ends": {"first": {"style": style}, "second": {"style": other}},
                }
            )
        except SpecError:
            continue
        found.append(spring)
        if len(found) == count:
            break
    assert found
    return found


def path_of(spring: Spring, shape: str, seed: int) -> Path:
    """Return its centreline drawn, pulled, or tilted, so that turns reach unequally far."""
    g = spring.model.geometry
    if shape == "pulled":
        return spring.at(length=spring.free_length + 0.6 * g.wire_diameter * g.turns).geometry.path
    if shape == "drawn":
        return g.path
    tilt = rotation_z(0.3)[[0, 2, 1]][:, [0, 2, 1]]
    turn = float(np.random.default_rng(seed).uniform(0, 6))
    return g.path.moved(tilt @ rotation_z(turn), np.ones(3))


@pytest.mark.parametrize(("style", "shape"), thinned(3, STYLES, ["drawn", "pulled", "tilted"]))
def test_same_as_the_plain_way(style: str, shape: str) -> None:
    for spring in springs(style, 1, 1):
        d, path = spring.model.geometry.wire_diameter, path_of(spring, shape, STYLES.index(style))
        quick, slow = tube_box(path, d / 2), plain.tube_box(path, d / 2)
        assert np.abs(quick - slow).max() < 1e-9 * d
        assert (quick[1] - slow[1] > -1e-12 * d).all()
        near, wanted = hook_approach(path, d), plain.hook_approach(path, d)
        assert (near is None) is (wanted is None)
        if near is not None and wanted is not None:
            assert near.distance == pytest.approx(wanted, abs=1e-9 * d)
