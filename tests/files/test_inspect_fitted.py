"""Every end's own files match, of both hands and with few coils: boxes and volumes as read back."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from springgeo.api import Spring
from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.files.inspect import inspect_file
from springgeo.files.publish.bundle import export_bundle


def spring(a: str, b: str, index: float, coils: float, hand: str) -> Spring:
    return Spring.from_dict(
        {
            "name": "few coils",
            "wire": {"material": "astm-a228", "diameter": "1 mm"},
            "body": {"index": index, "coils": coils, "hand": hand},
            "ends": {"first": {"style": a}, "second": {"style": b}},
        }
    )


def require_matches(made: Spring, folder: Path) -> None:
    export_bundle(made.model, folder, formats=["step", "stl"])
    for kind in ("step", "stl"):
        found = inspect_file(folder / f"few-coils.{kind}")
        assert found.matches, [c for c in found.comparisons if not c.ok]


def test_a_left_hand_swivel_eye(tmp_path: Path) -> None:
    require_matches(spring("plain", "coned-swivel-eye", 16, 3.84, "left"), tmp_path)


def _both_hands() -> Iterator[Any]:
    """Yield every style in one hand and, outside the gate, in the other."""
    for number, style in enumerate(registry.styles().values()):
        hands = ("left", "right") if number % 2 else ("right", "left")
        for hand, marks in zip(hands, ((), pytest.mark.slow), strict=True):
            yield pytest.param(style, hand, marks=marks, id=f"{hand}-{style.name}")


@pytest.mark.parametrize(("style", "hand"), list(_both_hands()))
def test_every_style_matches(style, hand: str, tmp_path: Path) -> None:
    draw = random.Random(f"inspected {style.name} {hand}")
    index, coils = draw.choice([6.0, 8.0, 12.0, 16.0]), draw.uniform(2.0, 4.5)
    try:
        made = spring(*draw.sample([style.name, "plain"], 2), index, coils, hand)
    except SpecError:  # the style's own limits are not what is asked here
        pytest.skip("not on this body")
    require_matches(made, tmp_path)
