"""The page in inches and in other languages: every number converts back to the summary's."""

from __future__ import annotations

import html
import json
import re
from functools import cache

import pytest

from springgeo import Spring
from springgeo.report import page
from springgeo.text.catalogue import catalogue
from springgeo.text.shown import DECIMAL, Language, Shown
from tests.gate import thinned
from tests.springs import kept

PRESETS = ("gate-latch", "relay-armature", "tarpaulin-tensioner", "damper-flap")
# non-default ends, a load that moves nothing, one that breaks it, heat, no loads, open coils
CHANGED: dict[str, dict[str, object]] = {
    "as-is": {},
    "loaded": {"service.temperature": "90 degC"},
    "fitted": {
        "ends.first.style": "threaded-plug",
        "service.loads": None,
        "service.duty": "static",
    },
}
CELL = re.compile(
    r'<data value="([^"]*)" data-path="([^"]*)" data-scale="([^"]*)"(?: data-offset="([^"]*)")?>'
    r"([^<]*)</data>"
)
METRIC = re.compile(r"(?<![\w/(])-?\d[\d.,]*\s(mm|N|MPa|N/mm|°C|degC|mJ|g)(?![\w/])")


@cache
def spring(preset: str, case: str) -> Spring:
    changes = CHANGED[case]
    made = kept(preset)
    if "service.temperature" in changes:
        s = made.summary()
        loads = 0.3 * s.initial_tension.force, 1.3 * s.pull.travel_stop_load
        changes = {**changes, "service.loads": [f"{x:.6g} N" for x in loads if x > 0.01]}
    return made.with_(changes)


@cache
def inches(preset: str, case: str, language: Language) -> str:
    return page(spring(preset, case), Shown("inch", language))


def words_of(text: str) -> str:
    """Return the page's words without scripts, styles and the author's own text."""
    text = re.sub(r"<(script|style|pre)\b.*?</\1>", "", text, flags=re.DOTALL)
    # where data come from is told in the words of the sources
    text = re.sub(r'<li class="note">.{0,4000}?wire\.material, .*?</li>', "", text)
    return html.unescape(re.sub(r"<[^>]+>", " ", text))


@pytest.mark.parametrize(
    ("preset", "case", "language"), thinned(4, PRESETS, list(CHANGED), ["en", "de"])
)
def test_every_number_in_inches_is_that_of_the_summary(
    preset: str, case: str, language: Language
) -> None:
    summary = json.loads(spring(preset, case).summary().json_text())
    cells = CELL.findall(inches(preset, case, language))
    assert len(cells) > 40
    for value, path, scale, offset, text in cells:
        found = summary
        for key in html.unescape(path).split("."):
            found = found[int(key)] if isinstance(found, list) else found[key]
        assert float(value) == found
        plain = text.replace("−", "-").replace("\u202f", "").replace(DECIMAL[language], ".")
        last = 10.0 ** -len(plain.partition(".")[2])
        if "." not in plain:  # noughts before the point may be rounding too
            last = 10.0 ** (len(plain) - len(plain.rstrip("0")))
        exact = found * float(scale) + float(offset or 0)
        assert abs(float(plain) - exact) <= 0.51 * last + 1e-3 * abs(exact), (path, text)


@pytest.mark.parametrize(("preset", "case"), thinned(4, PRESETS, list(CHANGED)))
def test_no_metric_unit_is_left_in_inches(preset: str, case: str) -> None:
    made = inches(preset, case, "en")
    words = words_of(made)
    assert METRIC.findall(words) == []
    assert " lbf" in words.replace("\u00a0", " ")
    view = json.loads(re.search(r'id="view-data">(.*?)</script>', made, re.DOTALL)[1])
    assert view["units"]["length"] == {"factor": 1 / 25.4, "sign": "in"}
    labels = " ".join(re.findall(r'(?:aria-label|title)="([^"]*)"', made))
    assert METRIC.findall(labels) == []


def test_json_on_the_page_stays_in_millimetres_and_says_so() -> None:
    made = kept("gate-latch")
    text = re.search(r'id="summary">(.*?)</script>', page(made, Shown("inch")), re.DOTALL)
    summary = json.loads(text[1])
    assert summary == json.loads(made.summary().json_text())
    assert summary["units"].startswith("mm, N, MPa")


@pytest.mark.parametrize(
    ("preset", "language"), thinned(2, ["gate-latch", "tarpaulin-tensioner"], ["de", "fr"])
)
def test_no_english_is_left_in_another_language(preset: str, language: str) -> None:
    made = page(kept(preset), Shown(language=language))
    assert f'<html lang="{language}">' in made
    words = " ".join(words_of(made).split())
    for text, other in catalogue(language).items():
        plain = " ".join(text.split())
        if len(plain) > 8 and "{" not in plain and text != other and plain.isascii():
            assert not re.search(rf"(?<!\w){re.escape(plain)}(?!\w)", words), text
    assert not re.search(r"\d\.\d+\s(mm|N|MPa)", words)


def test_the_specification_is_the_authors_own_text(tmp_path) -> None:
    text = (
        "# ours, in inches\nname: ours\nunits: inch\nlanguage: fr\n"
        "wire: {material: astm-a228, diameter: 0.047 in}\nbody: {index: 8, coils: 18.5}\n"
        "ends: {a: full-twisted-loop, b: full-twisted-loop}\nservice: {loads: [4 lbf]}\n"
    )
    path = tmp_path / "ours.yaml"
    path.write_text(text, encoding="utf-8")
    made = page(Spring.from_file(path))
    assert html.unescape(re.search(r"<pre[^>]*>(.*?)</pre>", made, re.DOTALL)[1]) == text
    assert '<html lang="fr">' in made
    assert "4\u00a0<span" in made
    assert ">lbf<" in made
