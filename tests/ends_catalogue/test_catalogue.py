"""Every registered style, sixteen random springs each: joints, wire distance, contact, box."""

from __future__ import annotations

import pytest

from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from tests.gate import thinned

from .checks import outcome, random_case

EVERY = list(registry.styles().values())


@pytest.mark.parametrize(("style", "seed"), thinned(4, EVERY, range(16)))
def test_random_springs(style: EndStyle, seed: int) -> None:
    case = random_case(style, seed)
    assert outcome(case).failures == [], case.facts()
