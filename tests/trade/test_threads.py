"""Threads by their standard names: against ISO 261 and ASME B1.1 (from memory), and on fittings."""

from __future__ import annotations

import pytest

from springgeo import Spring
from springgeo.errors import SpecError
from springgeo.trade.threads import by_diameter, named, nearest, threads


@pytest.mark.parametrize(
    ("name", "diameter", "pitch"),
    # ISO 261 table 2, coarse; ASME B1.1 table of UNC basic dimensions (from memory)
    [
        ("M3", 3.0, 0.5),
        ("M8", 8.0, 1.25),
        ("m10", 10.0, 1.5),
        ("M 16", 16.0, 2.0),
        ("M64", 64.0, 6.0),
        ("1/4-20 UNC", 6.35, 1.27),
        ("3/8-16unc", 9.525, 1.5875),
        ("8-32 UNC", 4.1656, 0.79375),
    ],
)
def test_names(name: str, diameter: float, pitch: float) -> None:
    thread = named(name)
    assert thread is not None
    assert thread.diameter == pytest.approx(diameter, abs=1e-9)
    assert thread.pitch == pytest.approx(pitch, abs=1e-9)
    assert by_diameter(diameter) == thread


def test_numbered_sizes_follow_their_law() -> None:
    # ASME B1.1: number n is 0.060 in + 0.013 in n
    for thread in threads():
        number, _, _ = thread.name.partition("-")
        if number.isdecimal() and "UNC" in thread.name and int(number) > 2:
            assert thread.diameter / 25.4 == pytest.approx(0.060 + 0.013 * int(number), abs=1e-9)


def test_nearest_is_metric_and_within() -> None:
    found = nearest(10.44, 1.0, 20.0)
    assert found is not None
    assert found.name == "M10"
    assert nearest(10.44, 10.1, 11.9) is None


def plug(**more: object) -> Spring:
    return Spring.from_dict(
        {
            "wire": {"diameter": 2.0},
            "body": {"mean_diameter": 22.9, "coils": 12},
            "ends": {"first": {"style": "threaded-plug", **more}, "second": "machine-half-loop"},
        }
    )


@pytest.mark.parametrize(
    ("given", "built"),
    [
        ({}, {"thread": "M10"}),
        ({"thread": "3/8-16 UNC"}, {"thread": "3/8-16 UNC"}),
        ({"stud_diameter": 8}, {"thread": "M8"}),
        ({"stud_diameter": 8.3}, {"stud_diameter": 8.3}),
    ],
)
def test_the_plug_states_its_thread(given: dict[str, object], built: dict[str, object]) -> None:
    shape = plug(**given).model.geometry.first
    assert built.items() <= dict(shape.built).items()
    diameter = dict(shape.parts[0].sizes)["stud diameter"]
    thread = named(str(built.get("thread")))
    assert diameter == pytest.approx(thread.diameter if thread else 8.3)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"thread": "M10", "stud_diameter": 10}, "two-forms"),
        ({"thread": "M11"}, "unknown-thread"),
        ({"thread": "M64"}, "thread-too-large"),
    ],
)
def test_refusals(given: dict[str, object], code: str) -> None:
    with pytest.raises(SpecError) as info:
        plug(**given)
    assert info.value.findings[0].code == code
    assert info.value.findings[0].field == "ends.first.thread"
