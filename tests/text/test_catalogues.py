"""The catalogues hold every text of page and sheet, with the same gaps, and nothing else.

Terms: titles of EN 13906-2 and DIN 2097 in the three languages (from memory), else the trade's.
"""

from __future__ import annotations

import re

import pytest

from springgeo.text.catalogue import catalogue
from springgeo.text.quantity import force, length
from springgeo.text.shown import LANGUAGES, Shown, said
from tests.text.catalogued import messages

OTHERS = LANGUAGES[1:]
GAP = re.compile(r"\{\w+\}")
# what is said of another language's convention alone
CONVENTIONS = {"N_b + 1/2 coil per hook (Machinery's Handbook)"}


@pytest.fixture(scope="module")
def texts() -> dict[str, str]:
    return messages()


@pytest.mark.parametrize("language", OTHERS)
def test_no_text_lacks_a_translation(language: str, texts: dict[str, str]) -> None:
    known = catalogue(language)
    assert len(texts) > 400
    assert [f"{where}: {text}" for text, where in texts.items() if text not in known] == []


@pytest.mark.parametrize("language", OTHERS)
def test_no_translation_is_of_a_text_that_is_gone(language: str, texts: dict[str, str]) -> None:
    assert set(catalogue(language)) - set(texts) - CONVENTIONS == set()


@pytest.mark.parametrize("language", OTHERS)
def test_translations_fill_the_same_gaps(language: str) -> None:
    for text, other in catalogue(language).items():
        assert set(GAP.findall(text)) == set(GAP.findall(other)), text


@pytest.mark.parametrize("language", OTHERS)
def test_few_texts_of_words_stand_as_they_were(language: str, texts: dict[str, str]) -> None:
    same = [
        text
        for text, other in catalogue(language).items()
        if text == other and len(re.findall(r"[a-z]{4,}", GAP.sub("", text))) > 1
    ]
    assert same == []


def test_terms_are_those_of_the_standards() -> None:
    """Titles: EN 13906-2, "Zugfedern", "Ressorts de traction"."""
    assert "Schraubenzugfeder" in Shown(language="de").say("Helical extension spring")
    assert "de traction" in Shown(language="fr").say("Helical extension spring")
    assert Shown(language="de").say("initial tension") == "innere Vorspannkraft"
    assert Shown(language="fr").say("wire diameter d") == "diamètre du fil d"


def test_a_message_is_said_in_language_and_units_at_once() -> None:
    text = said("{load} at {length}", load=force(30.0), length=length(25.4))
    assert text == "30 N at 25.4 mm"
    assert Shown("inch", "de").text(text) == "6,744 lbf bei 1 in"
    assert Shown("mm", "fr").text(text) == "30 N à 25,4 mm"
