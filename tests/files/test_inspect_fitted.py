"""Every end's own files match, of both hands and with few coils: boxes and volumes as read back."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from springgeo.api import Spring
from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.files.inspection import inspect_here
from springgeo.files.publish.bundle import export_bundle
from tests.gate import thinned


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
        # in this process: that files are read apart is asked of hostile ones
        found = inspect_here(folder / f"few-coils.{kind}")
        assert found.matches, [c for c in found.comparisons if not c.ok]


def test_a_left_hand_swivel_eye(tmp_path: Path) -> None:
    require_matches(spring("plain", "coned-swivel-eye", 16, 3.84, "left"), tmp_path)


@pytest.mark.parametrize(
    ("style", "hand"), thinned(2, list(registry.styles().values()), ["right", "left"])
)
def test_every_style_matches(style, hand: str, tmp_path: Path) -> None:
    draw = random.Random(f"inspected {style.name} {hand}")
    index, coils = draw.choice([6.0, 8.0, 12.0, 16.0]), draw.uniform(2.0, 4.5)
    try:
        made = spring(*draw.sample([style.name, "plain"], 2), index, coils, hand)
    except SpecError:  # the style's own limits are not what is asked here
        pytest.skip("not on this body")
    require_matches(made, tmp_path)
