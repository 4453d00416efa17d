"""Swivel loops: the rod does not meet itself; an eye is shut, a hook is open."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd


def rod_of(style: str, **given: float):
    end = BodyEnd(1.0, 6.0, 1.0022)
    chosen = registry.get(style)
    (part,) = chosen.shape(chosen.parameters(**given), end).parts
    return part.rod


@pytest.mark.parametrize("name", ["eye", "hook"])
@pytest.mark.parametrize("inside", [1.6, 2.0, 4.0])
@pytest.mark.parametrize("shank", [1.0, 2.0, 4.0])
def test_the_tip_stands_off_the_neck(name: str, inside: float, shank: float) -> None:
    path, radius = rod_of(
        f"coned-swivel-{name}", **{"shank_diameter": shank, f"{name}_diameter": inside * shank}
    )
    dense = path.point(np.linspace(0, path.length, 4000))
    # all but what is within a third of a turn of the tip along the rod
    early = dense[: int(4000 * 0.5)]
    tip, t = dense[-1], path.tangent(np.array([path.length]))[0]
    rim = [np.cross(t, [0, 1, 0]), np.array([0.0, 1.0, 0.0])]
    angle = np.linspace(0, 2 * np.pi, 200)[:, None]
    disc = tip + radius * (np.cos(angle) * rim[0] + np.sin(angle) * rim[1])
    gap = np.linalg.norm(disc[:, None] - early[None], axis=2).min() - radius
    assert gap > 0.1 * radius
    if name == "eye":
        assert gap < 0.6 * radius
    else:
        assert gap > 0.3 * inside * radius
