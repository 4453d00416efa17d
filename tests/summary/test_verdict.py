"""One verdict for every output: the least margin of both methods, and nothing not known."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import springgeo as sg
from springgeo.cli import table
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Sheet
from springgeo.errors import SpecError
from springgeo.findings import Finding, by_severity, note, source, warning
from springgeo.report import page
from springgeo.results.place import KINDS
from springgeo.results.summary import Summary
from springgeo.text.naming import subject
from tests.springs import summary_of

HALF = {"style": "machine-half-loop"}
STYLES = (
    "machine-half-loop",
    "full-twisted-loop",
    "raised-hook",
    "english-loop",
    "v-hook",
    "hook-at-side",
    "reduced-half-loop",
    "coned-swivel-eye",
    "threaded-plug",
    "plain",
)


def summary(
    a: Any = "machine-half-loop",
    b: Any = "machine-half-loop",
    wire: dict[str, Any] | None = None,
    **service: Any,
) -> Summary:
    ends = [e if isinstance(e, dict) else {"style": e} for e in (a, b)]
    return summary_of(
        {
            "wire": {"material": "astm-a228", "diameter": 1.2, **(wire or {})},
            "body": {"index": 8, "coils": 12, "initial_stress": 100},
            "ends": {"first": ends[0], "second": ends[1]},
            "service": {"loads": [10, 25], **service},
        }
    )


def least(s: Summary) -> float:
    """Return the least margin in the whole summary, found anew."""
    found = [
        m
        for p in (*s.points, *s.along_the_wire.points)
        for m in p.margin.model_dump().values()
        if m is not None
    ]
    return min(found)


@settings(max_examples=12, deadline=None)
@given(st.sampled_from(STYLES), st.sampled_from(STYLES), st.floats(0.2, 120.0), st.booleans())
def test_the_least_margin_of_both_methods_rules(a: str, b: str, load: float, low: bool) -> None:
    s = summary(a, b, loads=[load / 3, load] if low else [load])
    v = s.verdict
    assert v is not None
    assert v.margin == least(s)
    assert (v.outcome == "fails") == (v.margin < 1)
    if v.outcome == "holds":
        assert "holds" in v.words
    else:
        assert not re.search(r"(?<!it )holds", v.words)
    rows = s.points if v.way == "handbook" else s.along_the_wire.points
    key = next(k for k, kind in KINDS.items() if kind == v.place.kind)
    assert v.margin in {getattr(p.margin, key) for p in rows}
    assert (v.place.end is None) == (v.place.kind == "body")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"a": "coned-swivel-eye"}, "pull-out of the swivel at the first end"),
        ({"b": "threaded-plug"}, "pull-out of the plug at the second end"),
        ({"b": "plain"}, "what grips the second end"),
        (
            {"wire": {"material": "astm-b159"}, "loads": [3, 5], "duty": "cyclic", "cycles": 1e6},
            "no fatigue data",
        ),
    ],
)
def test_nobody_says_holds_where_something_is_not_judged(
    changes: dict[str, Any], words: str
) -> None:
    s = summary(**changes)
    v = s.verdict
    assert v is not None
    assert v.outcome == "not judged"
    assert words in " ".join(v.reasons)
    assert words in v.words
    text = "\n".join(table.report(s))
    assert "verdict: NOT JUDGED" in text
    assert "verdict: holds" not in text


@pytest.mark.parametrize("temperature", [400, 101, -31])
def test_beyond_the_wires_temperatures_nothing_holds(temperature: float) -> None:
    with pytest.raises(SpecError, match=f"{temperature} degC"):
        summary(temperature=temperature)


@pytest.mark.parametrize("temperature", [100, 20, -30])
def test_within_the_materials_temperatures_it_is_judged(temperature: float) -> None:
    v = summary(temperature=temperature).verdict
    assert v is not None
    assert v.outcome == "holds"


def test_a_tired_spring_fails_though_one_pull_holds() -> None:
    s = summary(loads=[8, 45], duty="cyclic", cycles=1e6)
    assert s.verdict is not None
    assert s.verdict.margin > 1
    assert s.verdict.outcome == "fails"
    assert "in fatigue" in s.verdict.words
    assert s.fatigue is not None
    assert s.fatigue.place is not None
    assert s.fatigue.place.words in s.verdict.words


CASES = {
    "half": lambda: summary(loads=[15, 30]),
    "two-ends": lambda: summary("full-twisted-loop", {**HALF, "bend_radius": 1.5}, loads=[20]),
    "raised": lambda: summary("raised-hook", "english-loop", loads=[12, 33]),
    "over": lambda: summary(loads=[60]),
    "fitted": lambda: summary("coned-swivel-eye", loads=[20]),
}


@cache
def case(name: str) -> sg.Spring:
    return sg.Spring.from_dict(CASES[name]().specification)


@cache
def html(name: str) -> str:
    return page(case(name))


@pytest.mark.parametrize("name", CASES)
def test_every_output_names_the_same_weakest_place(name: str) -> None:
    from springgeo.files.step.spring import description

    spring = case(name)
    s = spring.summary()
    assert s.verdict is not None
    place = s.verdict.place.words
    margin = f"{s.verdict.margin:.2f}"
    line = next(x for x in table.report(s) if x.startswith("verdict"))
    heading = re.search(r'class="verdict[^>]*>(.*?)</p>', html(name), re.S)
    assert heading is not None
    for text in (line, heading[1], description(s), spring._repr_html_()):
        assert place in text
        assert margin in text


def test_an_end_bent_harder_is_named_by_both_methods() -> None:
    for a, b, end in (
        (HALF, {**HALF, "bend_radius": 1.3}, "second"),
        ({**HALF, "bend_radius": 1.3}, HALF, "first"),
        (HALF, HALF, "both"),
    ):
        s = summary(a, b)
        book, wire = s.points[-1], s.along_the_wire.points[-1]
        assert book.place is not None
        assert wire.place is not None
        assert book.place.kind == wire.place.kind == "hook torsion"
        assert book.place.end == wire.place.end == end


@pytest.mark.parametrize("name", CASES)
def test_letters_name_no_end_in_print(name: str) -> None:
    spring = case(name)
    s = spring.summary()
    text = "\n".join(table.report(s))
    sheet = " ".join(str(r) for r in data_rows(Sheet(spring.model, s, "metric")))
    visible = re.sub(r"<(script|style).*?</\1>|<pre.*?</pre>|<[^>]+>", " ", html(name), flags=re.S)
    for where in (text, sheet, visible):
        assert not re.search(r"\b[Ee]nds? [AB]\b|\bpoint [AB]\b|\b[AB], hook|\bEND [AB]\b", where)
        assert "twist (" not in where


def test_what_is_true_of_both_ends_is_said_once() -> None:
    both = summary({**HALF, "bend_radius": 1.3}, {**HALF, "bend_radius": 1.3})
    found = [f for f in both.findings if f.code == "bend-radius-small"]
    assert [f.field for f in found] == ["ends.*.bend_radius"]
    assert subject(found[0].field) == "both ends, bend radius"
    apart = summary({**HALF, "bend_radius": 1.3}, {**HALF, "bend_radius": 1.4})
    fields = [f.field for f in apart.findings if f.code == "bend-radius-small"]
    assert fields == ["ends.first.bend_radius", "ends.second.bend_radius"]
    plain = summary("coned-swivel-eye", "coned-swivel-eye")
    assert sum(f.code == "pull-out" for f in plain.findings) == 1


def test_merging_keeps_order_and_different_words() -> None:
    a, b = warning("x", "ends.first", "one"), warning("x", "ends.second", "one")
    other = note("y", "ends.second", "two")
    assert by_severity([other, b, a]) == (warning("x", "ends.*", "one"), other)
    assert by_severity([a, warning("x", "ends.second", "two")])[0] == a


def test_where_data_come_from_is_counted_on_the_terminal_and_kept_elsewhere() -> None:
    s = summary(wire={"material": "astm-a401"})
    sources = [f for f in s.findings if f.topic == "source"]
    assert sources
    text = "\n".join(table.report(s))
    assert not any(f.message in text for f in sources)
    assert "on where the material's data come from" in text
    shown = page(sg.Spring.from_dict(s.specification))
    assert all(f.code in shown for f in sources)
    assert list(table.findings([source("c", "f", "m")])) == [
        "note: 1 remark on where the material's data come from: see the report or --json"
    ]


def test_the_reports_findings_say_what_they_are_about() -> None:
    s = summary({**HALF, "bend_radius": 1.3}, forcing_frequency=40)
    shown = page(sg.Spring.from_dict(s.specification))
    assert "<em>First end, bend radius:</em>" in shown
    assert "<em>Forcing frequency:</em>" in shown


def test_no_false_precision_on_the_terminal() -> None:
    text = "\n".join(table.report(case("half").summary()))
    assert not re.search(r"\d\.\d{3,} +mm|\d{2,}\.\d{3,} mm", text)
    assert all(c in text for c in case("half").summary().cautions)


def test_findings_are_values() -> None:
    assert isinstance(source("c", "f", "m"), Finding)
