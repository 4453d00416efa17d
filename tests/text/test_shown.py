"""Quantities and texts for a reader: units by their published definitions, digits, languages."""

from __future__ import annotations

import copy
import json
import pickle

import pytest
import yaml

from springgeo.findings import Finding, warning
from springgeo.message import Message
from springgeo.text import quantity as q
from springgeo.text.shown import PLAIN, Shown, said, word

# NIST SP 811 (2008), appendix B.8, from memory: what one unit is in SI
SI = {
    "length": 25.4,  # in, mm: exact
    "force": 4.448222,  # lbf, N
    "rate": 0.1751268,  # lbf/in, N/mm
    "stress": 6.894757,  # ksi, MPa
    "mass": 0.02834952,  # oz, kg
    "energy": 112.9848,  # in lbf, N mm
    "density": 27.67990,  # lb/in3, g/cm3
    "volume": 16387.06,  # in3, mm3
}


@pytest.mark.parametrize("kind", SI)
def test_one_unit_of_the_inch_system_is_what_the_standard_says(kind: str) -> None:
    assert q.convert(kind, SI[kind], "inch") == pytest.approx(1.0, rel=3e-7)


def test_temperatures_have_an_offset_and_differences_none() -> None:
    assert q.convert("temperature", -40.0, "inch") == pytest.approx(-40.0)
    assert q.convert("temperature difference", 100.0, "inch") == pytest.approx(180.0)


def test_digits_are_those_that_can_be_used() -> None:
    mm, inch = Shown(), Shown("inch")
    assert (mm.length(37.8231), inch.length(37.8231)) == ("37.82 mm", "1.489 in")
    assert (mm.length(1.2), inch.length(1.2)) == ("1.2 mm", "0.04724 in")
    assert (mm.length(0.5, places=2), inch.length(0.5, places=2)) == ("0.50 mm", "0.020 in")
    assert inch.stress(1203.4, 3) == "175 ksi"
    assert inch.force(25) == "5.62 lbf"
    assert inch.quantity(q.Quantity("number", 1.25)) == "1.25"


def test_both_units_stand_together_unless_they_are_the_same() -> None:
    both = Shown(second="inch")
    assert both.length(25.4) == "25.4 mm [1 in]"
    assert both.angle(1.5707963267948966) == "90 deg"


def test_the_comma_and_the_signs_are_those_of_the_language() -> None:
    assert Shown("mm", "de", typeset=True).length(-12345.67) == "−12\u202f345,67\u00a0mm"
    assert Shown("mm", "fr").rate(1.25) == "1,25 N/mm"
    assert Shown("mm", "de").say("{n}", n=q.number(0.5)) == "0,5"


def test_a_message_is_its_plain_text_and_can_be_said_again() -> None:
    text = said("{length} at {place}", length=q.length(25.4), place=word("body"))
    assert text == "25.4 mm at body"
    assert Shown("inch").text(text) == "1 in at body"
    for again in (copy.deepcopy(text), pickle.loads(pickle.dumps(text))):
        assert again == text
        assert Shown("inch").text(again) == "1 in at body"


def test_a_finding_keeps_its_message_and_its_json_keeps_millimetres() -> None:
    found = warning("code", "field", said("gap {gap}", gap=q.length(2.54)))
    assert isinstance(found.message, Message)
    assert Shown("inch").text(found.message) == "gap 0.1 in"
    assert json.loads(found.model_dump_json())["message"] == "gap 2.54 mm"
    assert Finding.model_validate_json(found.model_dump_json()) == found


def test_braces_in_a_name_are_no_template() -> None:
    assert said("{name}", name="a {b}") == "a {b}"
    assert PLAIN.text("{x}") == "{x}"
    assert yaml.safe_load(PLAIN.text(word("body"))) == "body"


def test_a_bound_is_never_told_as_more_than_it_is_nor_as_less() -> None:
    """Who goes as far as is told is within it, in either unit."""
    for x in (21.3344, 0.7316489, 8.0, 12.34567, 1e-3 / 3, 999.96):
        for units in ("mm", "inch"):
            shown = Shown(units)
            scale = 1.0 if units == "mm" else 25.4
            low, high = (
                scale * float(shown.value(q.least(x))),
                scale * float(shown.value(q.most(x))),
            )
            assert high <= x * (1 + 1e-12)
            assert low >= x * (1 - 1e-12)
            assert low - high <= 1.01e-3 * x
    assert Shown().quantity(q.least(12.0)) == Shown().quantity(q.most(12.0)) == "12 mm"


def test_a_margin_below_one_is_not_told_as_one() -> None:
    shown = Shown()
    told = {x: shown.value(q.factor(x)) for x in (1.237, 0.914, 1.0, 0.998, 0.99996, 0.9949)}
    assert list(told.values()) == ["1.24", "0.91", "1.00", "0.998", "0.99996", "0.99"]
    assert all((float(text) < 1) == (x < 1) for x, text in told.items())
