"""The calculation note: the same bytes, all sections, the reader's units and language."""

from __future__ import annotations

import io
import re
import sys
import zipfile
from pathlib import Path

import pytest

import springgeo as sg
from springgeo.cli.main import run
from springgeo.note import note
from springgeo.note.html import html
from springgeo.note.labels import label_of
from springgeo.note.markdown import markdown
from springgeo.note.model import FormulaLine, Formulas, Heading, Picture, Table
from springgeo.note.typst import source
from springgeo.text.shown import Shown
from springgeo.worked.expression import value
from springgeo.worked.written import Latex, MathML, Typst
from tests.springs import again, kept

pytestmark = pytest.mark.usefixtures("presets_kept")


@pytest.fixture(scope="module")
def spring() -> sg.Spring:
    return kept("gate-latch")


def _lines(spring: sg.Spring, **how) -> list[FormulaLine]:
    made = note(spring, spring.shown_in(typeset=True, **how))
    return [line for b in made.blocks if isinstance(b, Formulas) for line in b.lines]


def test_it_has_every_section_of_an_engineers_note(spring: sg.Spring) -> None:
    made = note(spring)
    headings = [b.text for b in made.blocks if isinstance(b, Heading)]
    assert headings == [
        "The job",
        "Assumptions",
        "Material",
        "Geometry",
        "Rate and initial tension",
        "Static strength",
        "How far it may be pulled",
        "Fatigue",
        "Vibration and stored energy",
        "Findings",
        "Cautions",
        "Sources",
        "The specification",
    ]
    names = {b.name for b in made.blocks if isinstance(b, Picture)}
    assert names == {"spring", "load-length", "stress", "fatigue-shear", "fatigue-bending"}
    assert re.search(r"[0-9a-f]{16}", dict(made.facts)["digest of the specification (SHA-256)"])


def test_every_formula_has_a_label_for_the_catalogues(spring: sg.Spring) -> None:
    for name in ("gate-latch", "loom-tensioner"):
        for line in _lines(kept(name)):
            row = line.words.replace("\u202f", "")  # lives are set in groups of three
            assert label_of(row), line.words


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_what_a_formula_shows_is_what_it_gives(spring: sg.Spring, units: str) -> None:
    """Multiplied out again from the printed values, to their five figures."""
    for line in _lines(spring, units=units):
        printed = {n: _figures(text) for n, text in line.names.items()}
        again, told = value(line.node, printed), _figures(line.result)
        factor = 1e3 if units == "inch" and "ksi" in line.result and "in" in str(line.names) else 1
        if units == "inch" and any("ksi" in v for v in line.names.values()):
            continue  # pounds per square inch over inches: a thousand apart, as printed
        assert again / factor == pytest.approx(told, rel=5e-3), line.words


def _figures(text: str) -> float:
    plain = re.sub(r"[\u2009\u202f\u00a0]", "", text.split("\u00a0")[0]).replace("\u2212", "-")
    found = re.match(r"-?[0-9.]+(?:e-?[0-9]+)?", plain)
    assert found, text
    return float(found.group(0))


def test_same_bytes_in_every_format(tmp_path: Path) -> None:
    pytest.importorskip("typst")
    one, other = kept("gate-latch"), again("gate-latch")
    for ending in (".pdf", ".html", ".md"):
        first, second = tmp_path / f"one{ending}", tmp_path / f"two{ending}"
        one.note(first)
        other.note(second)
        assert first.read_bytes() == second.read_bytes()
    pdf = (tmp_path / "one.pdf").read_bytes()
    assert pdf.startswith(b"%PDF-")
    assert 4 <= int(re.findall(rb"/Type/Pages/Count (\d+)", pdf)[0]) <= 8
    assert b"/CreationDate" not in pdf


def test_a_docx_has_formulas_pictures_and_the_same_bytes(spring: sg.Spring, tmp_path: Path) -> None:
    """Formulas as Office Open XML has them (ECMA-376 part 1, 22.1), no time of day anywhere."""
    pytest.importorskip("pypandoc", reason="the extra word")
    pytest.importorskip("typst")
    first, second = (spring.note(tmp_path / f"{name}.docx").read_bytes() for name in "ab")
    assert first == second
    with zipfile.ZipFile(io.BytesIO(first)) as file:
        assert {x.date_time[0] for x in file.infolist()} == {1980}
        text = file.read("word/document.xml").decode("utf-8")
        pictures = [n for n in file.namelist() if n.endswith(".png")]
        assert "1970-01-01" in file.read("docProps/core.xml").decode("utf-8")
    wanted = sum(len(b.lines) for b in note(spring).blocks if isinstance(b, Formulas))
    assert text.count("<m:oMath>") == wanted
    assert len(pictures) == sum(isinstance(b, Picture) for b in note(spring).blocks)


def test_german_and_french_leave_no_english_heading(spring: sg.Spring) -> None:
    english = {b.text for b in note(spring).blocks if isinstance(b, Heading)}
    for language in ("de", "fr"):
        made = note(spring, spring.shown_in(language=language, typeset=True))
        headings = {b.text for b in made.blocks if isinstance(b, Heading)}
        assert headings & english <= {"Sources", "Fatigue"}
        assert any("," in line.result for line in _lines(spring, language=language))


def test_html_asks_the_network_for_nothing_and_escapes(spring: sg.Spring) -> None:
    made = note(sg.Spring.from_dict({**_data(spring), "name": 'a <b> & "c"'}))
    page = html(made)
    assert "a &lt;b&gt; &amp;" in page
    assert not re.search(r"""(?:src|href)=["'](?!data:)""", page)
    assert "<math" in page
    assert "<mo>√</mo>" in page  # of the natural frequency: not every font draws msqrt
    assert "default-src 'none'" in page
    assert "\\<b\\>" in markdown(made)
    assert '"a <b> & \\"c\\""' in source(made)


def _data(spring: sg.Spring) -> dict:
    return spring.spec.model_dump(mode="json", exclude_none=True)


def test_a_bad_name_and_a_missing_extra_are_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run(["note", "--preset", "gate-latch", "-o", str(tmp_path / "note.xyz")]) == 2
    assert "must end in" in capsys.readouterr().err
    monkeypatch.setitem(sys.modules, "typst", None)
    assert run(["note", "--preset", "gate-latch", "-o", str(tmp_path / "note.pdf")]) == 2
    err = capsys.readouterr().err
    assert "springgeo[note]" in err
    assert len(err.strip().splitlines()) == 1
    assert not (tmp_path / "note.pdf").exists()


def test_a_spring_without_loads_has_a_note(tmp_path: Path) -> None:
    spring = sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1},
            "body": {"index": 8, "coils": 4},
            "ends": {"first": {"style": "plain"}, "second": {"style": "machine-half-loop"}},
        }
    )
    made = note(spring)
    assert any(isinstance(b, Table) for b in made.blocks)
    assert spring.note(tmp_path / "n.md").read_text(encoding="utf-8").startswith("# Calculation")


def test_a_german_note_has_decimal_commas_in_its_formulas_too(spring: sg.Spring) -> None:
    lines = [
        x
        for b in note(spring, Shown("mm", "de", typeset=True)).blocks
        if isinstance(b, Formulas)
        for x in b.lines
    ]
    for write in (Typst, Latex, MathML):
        text = "".join(write(point=x.point).write(x.node) for x in lines)
        assert not re.search(r"\d\.\d", text), write
        assert re.search(r"0\{?,\}?25", text)
    assert not any(re.search(r"\d\.\d", x.result) for x in lines)
    assert any("Lastspiele" in x.words for x in lines)


def test_a_note_in_inches_is_in_pounds_and_on_letter(spring: sg.Spring) -> None:
    found = note(spring, Shown("inch", typeset=True))
    text = markdown(found).partition("```")[0]
    assert "386.09 lb in/(lbf s²)" in text
    assert "lb/in³" in text
    assert not re.search(r"\d (?:kg|N|mm|MPa)\b", text)
    assert found.paper == "us-letter"
    assert note(spring).paper == "a4"
