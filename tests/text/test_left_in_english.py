"""Nothing but names stays English: sheets and pages written with a catalogue that shows itself.

The catalogue of this test answers every text that the real ones hold in Cyrillic letters. What is
left in Latin ones has not gone through it: a text put together on the way, or one of a data file.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Mapping
from itertools import zip_longest
from typing import Any

import pytest

from springgeo import Spring
from springgeo.drawing import PAPERS, sheets
from springgeo.drawing.maker_page import maker_pages
from springgeo.ends import registry
from springgeo.making import maker_data
from springgeo.materials import names
from springgeo.report.page import page
from springgeo.text import shown as module
from springgeo.text.catalogue import catalogue
from springgeo.text.shown import Shown

LATIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
OTHER = "абцдефгхийклмнопярстувшхызАБЦДЕФГХИЙКЛМНОПЯРСТУВШХЫЗ"
GAP = re.compile(r"(\{\w+\})")
WORD = re.compile(r"[A-Za-z]*[a-z]{3,}[A-Za-z]*")
SHOWN = Shown("mm", "de", typeset=True)
# a finding's field and code, digests, keys that a text names
KEYS = re.compile(r"\b[a-z_]+(\.[a-z_*]+)*, [a-z-]+$|\b[0-9a-f]{16}\b|\b[a-z]+\.[a-z_]+\b")
# names: of a paper, of the tool, of a handbook's rule, of a unit
NAMES = {"Letter", "springgeo", "summary", "Shigley", "rad"}


class Marked(dict[str, str]):
    """Every text of the real catalogue in other letters, its gaps kept."""

    def get(self, text: str, left: Any = None) -> Any:
        if text not in catalogue("de"):
            return left
        table = str.maketrans(LATIN, OTHER)
        return "".join(p if GAP.fullmatch(p) else p.translate(table) for p in GAP.split(text))


@pytest.fixture(autouse=True)
def marked(monkeypatch: pytest.MonkeyPatch) -> None:
    def of(_language: str) -> Mapping[str, str]:
        return Marked()

    monkeypatch.setattr(module, "catalogue", of)


def springs() -> Iterator[Spring]:
    """Yield springs of every style and every material that has a strength at its size."""
    styles = sorted(registry.styles())
    for k, (name, a) in enumerate(zip_longest(sorted(names()), styles)):
        b = styles[(k + 7) % len(styles)]
        size = 0.6 if name and "10270-2" in name else 1.2
        wire: dict[str, Any] = {"material": name or "astm-a228", "diameter": size}
        if name in ("astm-a313-316", "en-10270-3-1.4568"):
            wire["tensile_strength"] = 1500
        service: dict[str, Any] = {"loads": [size, 3 * size]}
        if k % 2:
            service |= {"duty": "cyclic", "cycles": 1e6}
        data = {
            "name": "Ж",
            "wire": wire,
            "body": {"index": 9, "coils": 12},
            "ends": {"first": {"style": a or b}, "second": {"style": b}},
            "service": service,
        }
        yield Spring.from_dict(data)


def left(text: str) -> set[str]:
    return set(WORD.findall(KEYS.sub("", text))) - NAMES


@pytest.mark.slow
def test_nothing_on_a_sheet_stays_english() -> None:
    found = set()
    for k, spring in enumerate(springs()):
        args, paper = (spring.model, spring.summary()), ("A4", "Letter")[k % 2]
        data = maker_data(*args, PAPERS[paper].trade)
        for each in (*sheets(*args, paper, SHOWN), *maker_pages(*args, data, paper, SHOWN)):
            found |= {(w, t.text) for t in each.texts for w in left(t.text)}
    assert found == set()


@pytest.mark.slow
def test_nothing_on_a_page_stays_english() -> None:
    found = set()
    for k, spring in enumerate(springs()):
        if k % 4:
            continue
        text = page(spring, SHOWN)
        text = re.sub(r"<(script|style|svg|pre)\b.*?</\1>", " ", text, flags=re.DOTALL)
        for piece in re.split(r"<[^>]*>", text):
            found |= {(w, piece.strip()) for w in left(html.unescape(piece))}
    assert found == set()


def test_the_catalogue_of_this_test_shows_what_is_missing() -> None:
    assert left(SHOWN.text("initial tension")) == set()
    assert left(SHOWN.text("a text of nobody")) == {"text", "nobody"}
