"""The top of the page says no more and no less than its sections."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest

import springgeo as sg
from springgeo.desk.numbers import whole
from springgeo.report import page
from springgeo.text.shown import PLAIN
from tests.mounted import ASIDE, PIN, gate

THICK = {"pin": {"diameter": 9.0, "length": 20.0}}
# what warns, and the spring
CASES: dict[str, tuple[dict[str, Any], dict[str, Any] | None]] = {
    "nothing": ({"loads": [6.0, 25.0]}, {"first": PIN, "second": PIN}),
    # its pins push it where it is mounted
    "the fit": ({"loads": [2.0, 12.0]}, {**ASIDE, "offset": [8.0, 0.0]}),
    "an error of the fit": ({"loads": [6.0, 25.0]}, {"first": THICK, "second": PIN}),
    "both": ({"loads": [6.0, 40.0]}, {**ASIDE, "over_travel": 2.0}),
    "the summary": ({"loads": [6.0, 60.0]}, None),
}


@cache
def made(name: str) -> sg.Spring:
    return gate(*CASES[name])


def section(text: str, name: str) -> str:
    return text[(start := text.index(f'<section id="{name}"')) : text.index("</section>", start)]


@pytest.mark.parametrize("name", CASES)
def test_the_top_counts_the_warnings_of_every_section(name: str) -> None:
    text = page(made(name))
    top = text[(start := text.index('<p class="verdict')) : text.index("</p>", start)]
    told: dict[str, int] = {}
    for link, words in re.findall(r'<a href="#(\w+)">([^<]*)</a>', top):
        if found := re.match(r"(One|\d+) warnings?,", words):
            told[link] = 1 if found[1] == "One" else int(found[1])
    counts: dict[str, int] = {}
    for link in ("findings", "fit"):
        if f'<section id="{link}"' in text:
            grave = re.findall(r'<li class="(?:warning|error)', section(text, link))
            counts[link] = len(grave)
    assert told == {k: n for k, n in counts.items() if n}
    assert ("No warnings" in top) == (not told)
    kind = re.match(r'<p class="verdict (\w+)"', top)
    assert kind is not None
    assert (kind[1] == "good") == (not told)
    assert bool(told) == (name != "nothing")


@pytest.mark.parametrize("name", CASES)
def test_the_desk_is_coloured_as_the_page(name: str) -> None:
    found: Any = whole(made(name), PLAIN)["verdict"]
    assert f'<p class="verdict {found["kind"]}"' in page(made(name))
