"""End styles are found by entry point, and a broken one harms nobody else."""

from __future__ import annotations

import threading
from dataclasses import replace
from typing import Any

import pytest

from springgeo import plugins
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndShape, EndStyle
from springgeo.errors import SpecError
from tests.plugins.entries import Entry, installed, unasked

IN_TREE = {
    "plain",
    "machine-half-loop",
    "raised-hook",
    "short-twisted-loop",
    "full-twisted-loop",
}


PLAIN = registry.get("plain")


def entry(name: str, found: Any, value: str = "elsewhere:END") -> Entry:
    return Entry(name, value, found)


@pytest.fixture
def entries(monkeypatch: pytest.MonkeyPatch) -> list[Entry]:
    """The entry points found, to be filled before the registry is first asked."""
    own = [entry(n, registry.get(n), "springgeo.ends.x:END") for n in sorted(IN_TREE)]
    all_of_them = list(own)
    installed(monkeypatch, own, all_of_them)
    monkeypatch.setattr(registry, "_known", replace(registry._known, **unasked()))
    return all_of_them


def test_in_tree_styles_are_installed() -> None:
    assert set(registry.styles()) >= IN_TREE
    assert registry.skipped() == ()


def test_a_style_from_elsewhere_is_found(entries: list[Entry]) -> None:
    style = replace(PLAIN, name="coned-end")
    entries.append(entry("coned-end", style))
    found = registry.get("coned-end")
    assert found.name == "coned-end"
    assert found.shape(found.parameters(), BodyEnd(1.0, 5.0, 1.1)) == EndShape((), 0.0)
    assert registry.get("coned-end") is found
    assert registry.skipped() == ()


@pytest.mark.parametrize(
    ("name", "found", "why"),
    [
        ("broken", ImportError("no module named x"), "ImportError: no module named x"),
        ("broken", SyntaxError("invalid\nsyntax"), "SyntaxError: invalid syntax"),
        ("leaves", SystemExit(3), "SystemExit: 3"),
        ("number", 42, "it is not an EndStyle"),
        ("two-names", replace(PLAIN, name="other"), "its name is 'other'"),
        ("plain", replace(PLAIN, title="mine"), "already has this name"),
        ("untold", replace(PLAIN, name="untold", title=7), "its title is not a text"),
        ("loose", replace(PLAIN, name="loose", parameters=dict), "no EndParameters"),
        ("shapeless", replace(PLAIN, name="shapeless", shape=3), "cannot be called"),
    ],
)
def test_a_bad_plug_in_is_left_out_with_the_reason(
    entries: list[Entry], name: str, found: object, why: str
) -> None:
    entries.append(entry(name, found))
    assert set(registry.styles()) == IN_TREE
    (finding,) = registry.skipped()
    assert finding.code == "end-style-skipped"
    assert finding.severity == "warning"
    assert why in finding.message
    assert "elsewhere:END" in finding.message
    assert "\n" not in finding.message


def test_a_bad_plug_in_asked_for_by_name_is_refused_with_the_reason(entries: list[Entry]) -> None:
    entries.append(entry("leaves", SystemExit(3)))
    for _ in range(2):
        with pytest.raises(
            SpecError, match=r"'leaves' \(elsewhere:END\) cannot be used: SystemExit"
        ):
            registry.get("leaves")


def test_only_what_is_asked_for_is_imported(entries: list[Entry]) -> None:
    never = entry("never", AssertionError("imported"))
    entries.append(never)
    assert "never" in registry.names()
    assert registry.get("plain") is PLAIN
    with pytest.raises(SpecError, match="did you mean 'never'"):
        registry.get("nevr")
    assert never.asked == []


def test_a_style_that_hangs_at_import_is_left_behind(
    entries: list[Entry], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(plugins, "IMPORT", 0.05)
    waiting = threading.Event()
    entries.append(entry("sleepy", waiting.wait))
    entries[-1].calls.append(True)
    with pytest.raises(SpecError, match=r"no answer within 0\.05 s"):
        registry.get("sleepy")
    assert set(registry.styles()) == IN_TREE
    waiting.set()


def test_a_stranger_cannot_take_an_in_tree_name(entries: list[Entry]) -> None:
    entries.insert(0, entry("plain", replace(PLAIN, title="mine"), "aaa.first:END"))
    assert registry.get("plain") is PLAIN
    assert registry.styles()["plain"] is PLAIN


@pytest.mark.parametrize(
    ("word", "offered"),
    [
        ("machine-half-lop", "machine-half-loop"),
        ("raised_hook", "raised-hook"),
        ("full-loop", "full-twisted-loop"),
        ("zzz", "plain"),
    ],
)
def test_a_misspelt_style_gets_the_nearest(word: str, offered: str) -> None:
    with pytest.raises(SpecError) as caught:
        registry.get(word)
    (finding,) = caught.value.findings
    assert finding.code == "unknown-end-style"
    assert f"'{word}'" in finding.message
    assert offered in finding.message


@pytest.mark.parametrize("word", ["", "x" * 10_000, "a\nb"])
def test_any_text_as_a_style_is_answered_shortly(word: str) -> None:
    with pytest.raises(SpecError) as caught:
        registry.get(word)
    assert "x" * 61 not in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("style", registry.styles().values(), ids=lambda s: s.name)
def test_a_style_describes_itself(style: EndStyle) -> None:
    assert style.title
    assert style.summary.endswith(".")
    assert style.sketch.isascii()
    assert style.parameters()  # every parameter has a default
    doc = " ".join((style.parameters.__doc__ or "").split())
    for name in style.parameters.model_fields:
        assert f"``{name}``" in doc, f"{name} is not described"
    assert style.turning in ("free", "kept", "held")
