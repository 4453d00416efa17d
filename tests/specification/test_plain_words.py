"""Words people type: styles by name alone, wire by its trade name, gauges, decimal commas.

Gauges: music wire 18 is 0.041 in, US steel wire 18 is 0.0475 in, steel 6/0 is 0.4615 in (public
gauge tables, as in Machinery's Handbook, wire gauges in use; from memory). Type 302 is ASTM A313's,
1.4310 the number of EN 10088-3 that EN 10270-3 lists as NS and HS (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
import yaml

import springgeo as sg
from springgeo import materials
from springgeo.api import Spring
from springgeo.errors import SpecError
from springgeo.findings import Finding
from springgeo.sizing.job.job import job_of
from springgeo.specification.load import spec_of
from springgeo.text.yaml_text import read_yaml

INCH = 25.4
Refusal = Callable[[dict[str, Any]], Finding]


def test_a_style_by_its_name_alone(good: dict[str, Any]) -> None:
    longhand = spec_of(
        good | {"ends": {"first": {"style": "plain"}, "second": {"style": "v-hook"}}}
    )
    assert spec_of(good | {"ends": {"first": "plain", "second": "v-hook"}}) == longhand


def test_letters_stand_for_the_ends(good: dict[str, Any], refusal: Refusal) -> None:
    named = good | {"ends": {"first": "plain", "second": "v-hook"}}
    assert spec_of(good | {"ends": {"a": "plain", "b": "v-hook"}}) == spec_of(named)
    assert spec_of(good | {"ends": {"a": "plain", "second": "v-hook"}}) == spec_of(named)
    changed = sg.Spring.from_dict(named).with_({"ends.b.style": "plain"})
    assert changed.spec.ends.second.style == "plain"
    twice = refusal(good | {"ends": {"a": "plain", "first": "plain", "b": "plain"}})
    assert twice.field.startswith("ends")


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("music wire", "astm-a228"),
        ("Music Wire", "astm-a228"),
        ("piano wire", "astm-a228"),
        ("A228", "astm-a228"),
        ("ASTM A228", "astm-a228"),
        ("302", "astm-a313-302"),
        (302, "astm-a313-302"),
        ("stainless 302", "astm-a313-302"),
        (316, "astm-a313-316"),
        (1.4401, "en-10270-3-1.4401"),
        ("1.4310 NS", "en-10270-3-1.4310-ns"),
        ("phosphor bronze", "astm-b159"),
        ("chrome silicon", "astm-a401"),
        ("SH", "en-10270-1-sh"),
        ("VDSiCr", "en-10270-2-vdsicr"),
    ],
)
def test_wire_by_its_trade_name(good: dict[str, Any], word: object, name: str) -> None:
    good["wire"]["material"] = word
    assert spec_of(good).wire.material == name
    assert job_of(_job(materials=[word])).choice.materials == (name,)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("1.4310", ["en-10270-3-1.4310-ns", "en-10270-3-1.4310-hs"]),
        ("stainless", ["astm-a313-302", "astm-a313-316"]),
        ("17-7 PH", ["astm-a313-631", "en-10270-3-1.4568"]),
        ("A229", ["astm-a229 ", "astm-a229-2"]),
        ("hard drawn", ["astm-a227 ", "astm-a227-2"]),
    ],
)
def test_a_name_of_several_wires_is_refused(
    good: dict[str, Any], refusal: Refusal, text: str, names: list[str]
) -> None:
    good["wire"] |= read_yaml(f"material: {text}", "x")  # 1.4310 is a number in YAML
    found = refusal(good)
    assert (found.code, found.field) == ("material-ambiguous", "wire.material")
    assert all(name in found.message for name in names)


def test_every_alias_leads_somewhere_and_says_why() -> None:
    for name in materials.names():
        block = materials.get(name).data.aliases
        assert block is not None
        for alias in block.names:
            try:
                assert materials.resolve(alias) == name
            except SpecError as exc:
                assert name in str(exc)  # noqa: PT017 - one of the choices


@pytest.mark.parametrize(
    ("material", "text", "inches"),
    [
        ("astm-a228", "18 ga", 0.041),
        ("music wire", "18 gauge", 0.041),
        ("astm-a227", "18 ga", 0.0475),
        ("astm-a229-2", "6/0 ga", 0.4615),
        ("astm-a229-2", "000000 ga", 0.4615),
        ("302", "18 swg", 0.0475),
        ("302", "18 MWG", 0.041),
        ("astm-a228", "18swg", 0.0475),
        ("astm-a228", "#18 ga", 0.041),
        ("astm-a228", "08 ga", 0.02),
    ],
)
def test_wire_gauges(good: dict[str, Any], material: str, text: str, inches: float) -> None:
    good["wire"] = {"material": material, "diameter": text}
    good["body"] = {"index": 8, "coils": 12}
    assert spec_of(good).wire.diameter == pytest.approx(inches * INCH, rel=1e-12)


@pytest.mark.parametrize(
    ("material", "text", "words"),
    [
        ("302", "18 ga", "write '18 mwg' (1.041 mm) or '18 swg' (1.206 mm)"),
        ("own.yaml", "18 ga", "18 swg"),
        ("astm-a228", "99 ga", "use 6/0 to 45"),
        ("astm-a228", "18 awg", "unit 'awg' is not known"),
    ],
)
def test_gauges_that_say_too_little(
    good: dict[str, Any], refusal: Refusal, material: str, text: str, words: str
) -> None:
    good["wire"] = {"material": material, "diameter": text}
    found = refusal(good)
    assert found.field == "wire.diameter"
    assert words in found.message


def test_a_gauge_of_unknown_wire_says_so(good: dict[str, Any], refusal: Refusal) -> None:
    good["wire"] = {"material": "unobtainium", "diameter": "18 ga"}
    assert refusal(good).field == "wire.material"


def test_a_gauge_is_no_length_of_the_coil(good: dict[str, Any], refusal: Refusal) -> None:
    good["body"] = {"mean_diameter": "18 ga", "coils": 12}
    assert "is a wire gauge; give this length in mm or in" in refusal(good).message


def test_gauges_in_a_job() -> None:
    sizes = job_of(_job(wire_sizes=["18 swg", "1,2 mm"])).choice.wire_sizes
    assert sizes == (pytest.approx(0.0475 * INCH), 1.2)
    with pytest.raises(SpecError, match="does not say which wire gauge"):
        job_of(_job(wire_sizes=["18 ga"]))


def test_a_decimal_comma_in_braces_is_explained(good: dict[str, Any], refusal: Refusal) -> None:
    good["wire"] = yaml.safe_load("{diameter: 1,2 mm}")  # YAML reads a second key, '2 mm'
    found = refusal(good)
    assert found.code == "decimal-comma"
    assert "('1,2 mm')" in found.message


def test_a_bare_number_that_looks_like_inches(good: dict[str, Any], refusal: Refusal) -> None:
    good["wire"]["diameter"] = 0.047
    assert "for inches write '0.047 in'" in refusal(good).message


@pytest.mark.parametrize(
    ("d", "told"), [("0.162", True), ("0.162 in", False), (0.16, False), ("0.25 mm", False)]
)
def test_a_bare_number_that_is_a_gauge_in_inches(
    good: dict[str, Any], d: object, told: bool
) -> None:
    """Music wire 43 is 0.162 in; 0.16 and 0.25 are sizes in millimetres."""
    good["wire"]["diameter"] = d
    good["body"] = {"index": 8, "coils": 12}
    good["service"] = {}
    found = [f.code for f in Spring.from_dict(good).summary().findings]
    assert ("inches-meant" in found) == told


def test_nor_is_it_when_the_table_does_not_reach_it(good: dict[str, Any]) -> None:
    """Music wire 26 is 0.063 in; 0.08 is a size in millimetres too."""
    good["body"] = {"index": 8, "coils": 12}
    for d, told in ((0.063, True), (0.08, False)):
        good["wire"]["diameter"] = d
        with pytest.raises(SpecError, match="is outside") as caught:
            Spring.from_dict(good).summary()
        assert (f"in inches, write '{d} in'" in str(caught.value)) == told


@pytest.mark.parametrize(
    "name", ["a\x1b[2Jb", "a\rb", "a\nb", "a\u202eb", "a\u2028b", "a\ud800", "a\x9b", "a\x00b"]
)
def test_names_that_would_move_a_cursor(good: dict[str, Any], refusal: Refusal, name: str) -> None:
    assert refusal(good | {"name": name}).code == "hidden-character"
    with pytest.raises(SpecError, match="leave it out"):
        job_of(_job() | {"name": name})


def test_the_line_end_of_a_yaml_block_is_no_part_of_a_name(good: dict[str, Any]) -> None:
    assert spec_of(good | read_yaml("name: >\n  Führung µ 弹簧\n", "x")).name == "Führung µ 弹簧"


def _job(**choice: object) -> dict[str, Any]:
    points = [{"length": 60, "load": 15}, {"length": 75, "load": 30}]
    return {"points": points, "choice": choice}
