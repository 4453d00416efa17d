"""The greatest scale that the sheet has room for, and no digits that a tolerance does not bear."""

from __future__ import annotations

import sys
from itertools import permutations

import pytest

from springgeo import Spring
from springgeo.drawing import sheets
from springgeo.drawing.arrows import drawn, labels_of, text_box
from springgeo.drawing.page import Page
from springgeo.text.quantity import length
from springgeo.text.shown import Shown
from tests.drawing.overlap import collisions, disorder
from tests.springs import made

D = 24.0
SWIVELS = {
    "name": "two swivels",
    "wire": {"material": "astm-a228", "diameter": f"{D / 9} mm"},
    "body": {"mean_diameter": f"{D} mm", "coils": 22},
    "ends": {"first": {"style": "coned-swivel-hook"}, "second": {"style": "coned-swivel-hook"}},
    "service": {"loads": ["120 N", "180 N"]},
}


@pytest.fixture(scope="module")
def swivels() -> Spring:
    return Spring.from_dict(SWIVELS)


@pytest.mark.parametrize("language", ["en", "de", "fr"])
@pytest.mark.parametrize("units", [("inch", "mm"), ("mm", "inch")])
def test_swivels_in_two_units_are_drawn_at_half_their_size(swivels, units, language) -> None:
    """They were drawn 1:5: not all that is kept free for two texts a dimension is needed here."""
    shown = Shown(units[0], language, units[1], typeset=True)
    page = sheets(swivels.model, swivels.summary(), "Letter", shown)[0]
    assert page.scale == 0.5
    assert not [*collisions(page), *disorder(page)]


def test_where_a_dimension_would_not_be_clear_the_scale_stays(swivels, monkeypatch) -> None:
    module = sys.modules["springgeo.drawing.sheet"]
    draw = module.draw_dimensions
    monkeypatch.setattr(module, "draw_dimensions", lambda *args: draw(*args) and False)
    shown = Shown("inch", "en", "mm", typeset=True)
    assert sheets(swivels.model, swivels.summary(), "Letter", shown)[0].scale == 0.2


@pytest.mark.parametrize(
    ("units", "value", "off", "text"),
    [
        ("mm", 16.3725, 0.5, "16.37"),
        ("mm", 0.12345, 0.1, "0.12"),
        ("mm", 121.94, 1.2, "121.9"),
        ("inch", 16.3725, 0.5, "0.645"),
        ("inch", 9.6048, 0.3, "0.378"),
    ],
)
def test_a_place_is_worth_a_tenth_of_the_tolerance_at_most(units, value, off, text) -> None:
    assert Shown(units).value(length(value, within=off)) == text


@pytest.mark.parametrize(("units", "text"), [("mm", "LH 12.8"), ("inch", "LH 0.504")])
def test_a_hook_is_as_long_as_its_tolerance_bears_on_view_and_table(units, text) -> None:
    """It is 12.8035 mm long, give or take 0.5 mm, and was said to be 0.5041 in.

    In mm a hundredth stays: from the sheet the spring must be made again, at its limits, too.
    """
    ends = {"first": {"style": "full-twisted-loop", "hook_length": 12.8035}}
    spec = SWIVELS | {"ends": ends | {"second": {"style": "machine-half-loop"}}}
    spring = made(spec | {"wire": {"material": "astm-a228", "diameter": 2.0}})
    pages = sheets(spring.model, spring.summary(), "A4", Shown(units, typeset=True))
    assert next(d.text for d in pages[0].linear if d.text.startswith("LH")) == text
    row = text.removeprefix("LH ")
    assert any(t.text.startswith(f"{row}\xa0±") for page in pages for t in page.texts)


def crossed(page: Page) -> list[str]:
    """Return which dimension's lines that lead to it run through the text of another."""
    found = []
    for dim, other in permutations(page.linear, 2):
        texts = [text_box(t) for t in labels_of(other)]
        for line in drawn(dim)[:2]:
            (left, low), (right, high) = line.points.min(axis=0), line.points.max(axis=0)
            if any(
                left < b.right and right > b.left and low < b.top and high > b.bottom for b in texts
            ):
                found.append(f"{dim.text} through {other.text}")
    return found


@pytest.mark.parametrize("second", [None, "inch"])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
def test_no_line_that_leads_to_a_dimension_is_broken_at_the_text_of_another(paper, second) -> None:
    """That to L0 was, at the length of a body too short for its text, and that to De at D."""
    spec = {
        "name": "a short body between long hooks",
        "wire": {"material": "astm-a228", "diameter": 1.6},
        "body": {"mean_diameter": 13.0, "coils": 8},
        "ends": {
            "first": {"style": "extended-hook", "hook_length": 40.0},
            "second": {"style": "machine-half-loop"},
        },
        "service": {"loads": [20.0, 40.0]},
    }
    spring = made(spec)
    shown = Shown("mm", "en", second, typeset=True)
    page = sheets(spring.model, spring.summary(), paper, shown)[0]
    assert crossed(page) == []
    assert not [*collisions(page), *disorder(page)]
