"""The sheet defines the spring: read alone, it gives the same free wire within its rounding."""

from __future__ import annotations

import random

import numpy as np
import pytest

from springgeo import Spring
from springgeo.drawing import Paper, sheets
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from tests.drawing.reader import made
from tests.gate import thinned

pytest.importorskip("matplotlib")
pytest.importorskip("shapely")
STYLES = sorted(registry.styles())
# lengths stand to 0.01 mm and angles to 0.1°: a few roundings together, and what a loop that is
# nearly closed makes of them
ROUNDING = 0.05


def off(a: Spring, b: Spring) -> float:
    """Return how far two wires lie apart, mm, place by place along them."""
    t = np.linspace(0.0, 1.0, 2000)
    one, two = (s.centreline.point(t * s.centreline.length) for s in (a, b))
    return float(np.linalg.norm(one - two, axis=1).max())


def asked(style: str, seed: int, mean: float, d: float) -> dict[str, object]:
    """Return an end of that style with odd sizes inside what it guarantees."""
    draw = random.Random(f"{style} {seed}")
    spans = registry.get(style).ranges(BodyEnd(d, mean / 2, d * 1.002))
    sizes = {k: low + draw.random() * (high - low) for k, (low, high) in spans.items()}
    return {"style": style, **(sizes if seed else {})}


# hand, and usual or odd sizes: in the gate each style has one of these in turn
MADE = [("right", 0), ("left", 1), ("left", 0), ("right", 1)]


@pytest.mark.parametrize(("style", "hand_and_seed"), thinned(len(MADE), STYLES, MADE))
def test_every_style_is_made_again_from_its_sheet(
    style: str, hand_and_seed: tuple[str, int]
) -> None:
    hand, seed = hand_and_seed
    d, mean = (1.2, 9.637) if seed == 0 else (1.6, 15.2 + 1 / 3)
    form = {"mean_diameter": mean} if seed == 0 else {"outer_diameter": mean + d}
    spring = Spring.from_dict(
        {
            "wire": {"diameter": d},
            "body": {**form, "coils": 5 + 1 / 3, "hand": hand},
            "ends": {"first": asked(style, seed, mean, d), "second": "machine-half-loop"},
            "service": {"loads": [20, 30]},
        }
    )
    again = made(sheets(spring.model, spring.summary(), "A4"))
    assert again.spec.body.hand == hand
    assert off(spring, again) < ROUNDING


@pytest.mark.parametrize(("facing", "paper"), thinned(2, [0, 90, 180, 270], ["A3", "Letter"]))
def test_180_degrees_are_not_0(facing: float, paper: Paper) -> None:
    spring = Spring.from_dict(
        {
            "wire": {"diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 12.2},
            "ends": {"first": "v-hook", "second": "machine-half-loop", "facing": facing},
        }
    )
    again = made(sheets(spring.model, spring.summary(), paper))
    assert off(spring, again) < ROUNDING


def test_an_open_body_states_its_pitch() -> None:
    spring = Spring.from_dict(
        {
            "wire": {"diameter": 1.2},
            "body": {"inner_diameter": 9.6, "coils": 12.2, "pitch": 2.0},
            "ends": {"first": "long-square-end-hook", "second": "hook-at-side"},
        }
    )
    # 12 coils of a pitch that is stated to 0.01 mm
    again = made(sheets(spring.model, spring.summary(), "A4"))
    assert off(spring, again) < ROUNDING + 12 * 0.005
