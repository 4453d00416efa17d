"""A spring is wound once, and measured with ends that turn as their style says: not as mounted."""

from __future__ import annotations

from typing import Any

import pytest

import springgeo as sg
from tests.springs import asked, made

HOLDINGS = ("kept", "swivelling", "held")


def spring(style: str, coils: float, holding: str | None) -> sg.Spring:
    """Return a spring with both ends alike."""
    data: dict[str, Any] = {
        "wire": {"material": "astm-a228", "diameter": 1.2},
        "body": {"mean_diameter": 9.6, "coils": coils, "initial_stress": 80},
        "ends": {"first": {"style": style}, "second": {"style": style}},
        "service": {"loads": [4, 12, 30]},
    }
    if holding is not None:
        data["mating"] = {side: {"holding": holding} for side in ("first", "second")}
    return made(data)


@pytest.mark.parametrize("holding", HOLDINGS)
@pytest.mark.parametrize(("style", "coils"), [("full-loop-at-side", 4), ("machine-half-loop", 12)])
def test_how_it_is_held_winds_it_no_other_way(style: str, coils: float, holding: str) -> None:
    free, held = spring(style, coils, None), spring(style, coils, holding)
    pressing = [x.load_curve.pressing for x in (free, held)]
    assert pressing[1] == pytest.approx(pressing[0], rel=1e-9)
    # the wire without a pull bears the same
    rest = [x.along_the_wire.at(0.0) for x in (free, held)]
    peaks = [max(p.von_mises.value for p in x.peaks.values()) for x in rest]
    assert peaks[1] == pytest.approx(peaks[0], rel=1e-6)


def test_a_file_and_a_mating_section_given_to_it_say_the_same() -> None:
    held = spring("full-loop-at-side", 4, "held")
    mating = held.spec.mating
    (one,) = held.mounted(loads=[12.0])
    (other,) = spring("full-loop-at-side", 4, None).mounted(mating, loads=[12.0])
    assert one.length == pytest.approx(other.length, rel=1e-9)


def test_a_short_spring_that_is_wound_can_be_held() -> None:
    """Held so, two coils and a half could not be measured: no state parts them."""
    held = sg.Spring.from_dict(
        {
            "wire": {"material": "en-10270-1-sm", "diameter": 1.0},
            "body": {"mean_diameter": 9.099, "coils": 2.4624, "initial_stress": 154},
            "ends": {
                "first": {"style": "double-twisted-full-loop", "bend_radius": 1.297},
                "second": {
                    "style": "reduced-half-loop",
                    "end_diameter": 5.967,
                    "bend_radius": 1.491,
                },
            },
            "service": {"loads": [4, 20]},
            "mating": {"first": {"holding": "swivelling"}, "second": {"holding": "kept"}},
        }
    )
    s = asked(held)
    assert s.contact is not None
    assert s.contact.pressing_free > 2 * s.initial_tension.force
    lengths = [p.length for p in s.points]
    assert held.free_length < lengths[0] < lengths[1]
