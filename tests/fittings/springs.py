"""Springs with a fitted end of every style that holds a part, found by asking the registry."""

from __future__ import annotations

from typing import Any

import springgeo as sg
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from tests.springs import made

BODY = BodyEnd(1.0, 5.0, 1.0022)
FITTED = [
    s.name
    for s in registry.styles().values()
    if not s.holds_load and s.ranges(BODY) and s.shape(s.parameters(), BODY).parts
]


def spring(a: str, b: str = "plain", **body: Any) -> sg.Spring:
    """Return a spring of 1 mm wire, mean diameter 10 mm, 12 coils, the same one each time."""
    return made(
        {
            "name": f"{a} and {b}",
            "wire": {"material": "astm-a228", "diameter": "1 mm"},
            "body": {"mean_diameter": "10 mm", "coils": 12, "initial_tension": "5 N", **body},
            "ends": {"first": {"style": a}, "second": {"style": b}},
            "service": {"loads": ["8 N", "15 N"]},
        }
    )
