"""A limit that is told is taken, to the digits that are told and in either unit."""

from __future__ import annotations

import re
from typing import Any

import pytest

import springgeo as sg
from springgeo.ends import registry
from springgeo.findings import Finding
from springgeo.text.shown import Shown

# wire and mean diameter, mm: of no round numbers
SIZES = [(1.2345, 9.8765), (0.71371, 7.3939)]
WANTED = [
    (style, name)
    for style in registry.styles().values()
    for name, field in style.parameters.model_fields.items()
    if "float" in str(field.annotation) and name not in ("coils", "points")
]


def refusal(spec: dict[str, Any]) -> Finding | None:
    try:
        sg.Spring.from_dict(spec)
    except sg.SpecError as exc:
        return exc.findings[0]
    return None


@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize(("style", "name"), WANTED, ids=lambda x: getattr(x, "name", x))
def test_what_is_told_as_allowed_is_taken(style: Any, name: str, units: str) -> None:
    said = 0
    for d, D in SIZES:
        for value in (1e-3 * d, 60 * D):
            spec = {
                "units": units,
                "wire": {"material": "astm-a228", "diameter": f"{d} mm"},
                "body": {"mean_diameter": f"{D} mm", "coils": 12.3},
                "ends": {
                    "first": {"style": style.name, name: f"{value} mm"},
                    "second": {"style": "machine-half-loop"},
                },
            }
            found = refusal(spec)
            limit = found and re.search(
                r" is (?:below|above)(?: the wire diameter)? ([\d.]+ (?:mm|in))\b",
                Shown(units).text(found.message),
            )
            if not found or not limit or found.field != f"ends.first.{name}":
                continue
            said += 1
            spec["ends"]["first"][name] = limit[1]
            again = refusal(spec)
            assert again is None or (again.code, again.field) != (found.code, found.field), again
    assert said or name not in ("bend_radius", "loop_radius", "hook_length")
