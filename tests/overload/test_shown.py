"""What an overload leaves, on the page, on the sheet and in the terminal of any reader."""

from __future__ import annotations

import pytest
from markupsafe import escape

import springgeo as sg
from springgeo.cli.overloaded import lines
from springgeo.drawing.overload_note import overload_note
from springgeo.report.overload import overload_table
from springgeo.report.value import Values
from springgeo.results.overload import Overload
from springgeo.results.summary import Summary
from springgeo.summary.overload.rows import overload_rows
from springgeo.text.catalogue import catalogue
from springgeo.text.shown import LANGUAGES, Shown

SPEC = {
    "name": "pulled",
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 6},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "plain"}},
    "service": {"overload": "72 N"},
}


@pytest.fixture(scope="module", name="summary")
def _summary() -> Summary:
    return sg.Spring.from_dict(SPEC).summary()


@pytest.fixture(scope="module", name="found")
def _found(summary: Summary) -> Overload:
    assert summary.overload is not None
    assert summary.overload.least.set is not None
    return summary.overload


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_page_holds_every_figure(summary: Summary, found: Overload, language: str) -> None:
    v = Values(summary.model_dump(mode="json"), Shown("mm", language))
    html = str(overload_table(summary, v))
    for row in overload_rows(found):
        for name in ("least", "greatest"):
            if row.of(getattr(found, name)) is not None:
                assert f'data-path="overload.{name}.{row.path}"' in html
        assert f">{v.text(row.words)}<" in html
        assert language == "en" or f">{row.words}<" not in html
    # the plain end has no hook to open
    assert "overload.least.set.opened_second" not in html
    assert all(str(escape(v.text(remark))) in html for remark in found.remarks)


def test_page_and_sheet_are_silent_unless_asked(summary: Summary) -> None:
    quiet = summary.model_copy(update={"overload": None})
    assert str(overload_table(quiet, Values(quiet.model_dump(mode="json")))) == ""
    assert list(overload_note(quiet)) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_sheet_says_it_in_a_note(summary: Summary, found: Overload, language: str) -> None:
    (note,) = overload_note(summary)
    shown = Shown("mm", language, typeset=True)
    text = shown.text(note)
    least, greatest = found.least.set, found.greatest.set
    assert least is not None
    assert greatest is not None
    for x, y in ((greatest.lengthened, least.lengthened),):
        assert text.index(shown.length(x, 2)) < text.index(shown.length(y, 2))
    assert shown.force(72.0) in text
    weak = found.least.model_copy(update={"set": None, "yields_through": True})
    through = summary.model_copy(update={"overload": found.model_copy(update={"least": weak})})
    (worse,) = overload_note(through)
    assert "yields through" in worse


@pytest.mark.parametrize("language", ["de", "fr"])
def test_the_terminal_in_other_languages(found: Overload, language: str) -> None:
    said = catalogue(language)
    text = "\n".join(lines(found, Shown("mm", language)))
    for row in overload_rows(found):
        assert Shown("mm", language).text(row.words) in text
    assert "elastic limit in" not in text
    assert said["yields through"] not in text
    weak = found.least.model_copy(update={"set": None, "yields_through": True})
    worse = found.model_copy(update={"least": weak})
    assert said["yields through"] in "\n".join(lines(worse, Shown("mm", language)))


def test_loads_are_told_as_they_are_looked_at() -> None:
    told: list[float] = []
    found = sg.Spring.from_dict(SPEC).overload(load=72.0, told=told.append)
    assert 72.0 in told
    assert found.least.costs is not None
    assert any(abs(x / found.least.costs.load - 1) < 1e-9 for x in told)
    # a display of progress is of use, and the answer does not take for ever
    assert 6 < len(told) < 40
