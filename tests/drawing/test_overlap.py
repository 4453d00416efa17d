"""No text on a sheet meets another, the frame or the spring: a seeded part of the long run."""

from __future__ import annotations

import pytest

from springgeo.drawing import PAPERS, Paper, sheets
from springgeo.drawing.page import Page
from tests.drawing.overlap import (
    READERS,
    all_sheets,
    astray,
    collisions,
    disorder,
    of_spring,
    springs,
)
from tests.gate import thinned
from tests.springs import made

pytest.importorskip("matplotlib")
pytest.importorskip("shapely")


@pytest.mark.slow
def test_nothing_collides_on_random_springs() -> None:
    for spring in springs(3, 2):
        assert list(of_spring(spring)) == []


@pytest.mark.parametrize(
    ("ends", "paper", "reader"),
    thinned(
        4,
        [("threaded-plug", "coned-swivel-eye"), ("plain", "screwed-in-shackle")],
        list(PAPERS),
        range(len(READERS)),
    ),
)
def test_nothing_collides_where_notes_are_few(
    ends: tuple[str, str], paper: Paper, reader: int
) -> None:
    a, b = ends
    spring = made(
        {
            "name": "two fitted ends",
            "wire": {"diameter": 2},
            "body": {"mean_diameter": 22.9, "coils": 16},
            "ends": {"first": a, "second": b},
            "service": {"loads": [30, 60]},
        }
    )
    for _, _, page in all_sheets(spring, paper, READERS[reader : reader + 1]):
        assert list(collisions(page)) == []


REDUCED = {
    "wire": {"diameter": 1.6},
    "body": {"mean_diameter": 12, "coils": 45},
    "ends": {"first": "small-eye-at-side", "second": "reduced-full-loop"},
}
# the arc of the loop angle passes between end view and diameters, near the edge of the field
BESIDE_AN_ARC = {
    "wire": {"material": "en-10270-2-vdsicr", "diameter": 0.63117},
    "body": {"outer_diameter": 8.59745, "coils": 24.01748},
    "ends": {
        "first": {"style": "small-eye-at-side", "bend_radius": 1.1622},
        "second": {"style": "raised-hook", "bend_radius": 1.9366},
    },
}


WRONG_ONCE = {"reduced": REDUCED, "arc": BESIDE_AN_ARC}


@pytest.mark.parametrize(
    ("name", "paper", "reader"), thinned(2, list(WRONG_ONCE), list(PAPERS), range(4))
)
def test_the_longer_dimension_stands_further_out(name: str, paper: Paper, reader: int) -> None:
    spring = made(WRONG_ONCE[name])
    page = sheets(spring.model, spring.summary(), paper, READERS[reader])[0]
    assert list(disorder(page)) == []


CROWDED: dict[Paper, tuple[str, str]] = {
    # the outside diameter's lines ended on the table's edge
    "A4": ("threaded-plug", "v-hook"),
    # the inside diameter of the end view stood at the hook of the front view
    "Letter": ("coned-swivel-bolt", "reduced-full-loop"),
}


@pytest.mark.parametrize(("paper", "reader"), thinned(2, list(CROWDED), range(len(READERS))))
def test_diameters_stand_at_their_view_and_off_the_frame(paper: Paper, reader: int) -> None:
    a, b = CROWDED[paper]
    spring = made(
        {
            "wire": {"material": "en-10270-1-dm", "diameter": 2},
            "body": {"outer_diameter": 18, "coils": 20},
            "ends": {"first": a, "second": b, "facing": "90 deg"},
            "service": {"loads": [60, 110]},
        }
    )
    page = sheets(spring.model, spring.summary(), paper, READERS[reader])[0]
    assert [*astray(page), *disorder(page), *collisions(page)] == []


def test_the_measure_sees_a_collision() -> None:
    page = Page(297.0, 210.0, 1.0, "")
    page.text("DATA", (100, 100), "one", 3.0)
    page.text("DATA", (103, 101), "two", 3.0)
    page.text("DATA", (10, 50), "outside", 3.0)
    page.line("FRAME", (20, 151), (280, 151.5))
    page.text("DATA", (100, 150), "crossed", 3.0)
    assert list(collisions(page)) == [
        "off the frame: 'outside'",
        "'one' on 'two'",
        "a line through 'crossed'",
        "a line near 'crossed'",
    ]
