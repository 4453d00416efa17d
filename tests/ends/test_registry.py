"""End styles are found by entry point, and a broken one harms nobody else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import pytest

from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from springgeo.errors import SpecError

IN_TREE = {
    "plain",
    "machine-half-loop",
    "raised-hook",
    "short-twisted-loop",
    "full-twisted-loop",
}


@dataclass(frozen=True)
class Entry:
    """An entry point as ``importlib.metadata`` gives it."""

    name: str
    value: str
    found: Any

    def load(self) -> Any:
        """Return what it names, or raise what its import raises."""
        if isinstance(self.found, Exception):
            raise self.found
        return self.found


@pytest.fixture
def entries(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[Entry]]:
    """The entry points found, to be filled; the registry is as new before and after."""
    own = [Entry(n, "springgeo.ends.x:END", registry.get(n)) for n in sorted(IN_TREE)]
    monkeypatch.setattr(registry, "entry_points", lambda group: own if group else [])
    registry._load.cache_clear()
    yield own
    monkeypatch.undo()
    registry._load.cache_clear()


PLAIN = registry.get("plain")


def test_in_tree_styles_are_installed() -> None:
    assert set(registry.styles()) >= IN_TREE
    assert registry.skipped() == ()


def test_a_style_from_elsewhere_is_found(entries: list[Entry]) -> None:
    style = replace(PLAIN, name="coned-end")
    entries.append(Entry("coned-end", "elsewhere:END", style))
    assert registry.get("coned-end") is style
    assert registry.skipped() == ()


@pytest.mark.parametrize(
    ("name", "found", "why"),
    [
        ("broken", ImportError("no module named x"), "ImportError: no module named x"),
        ("broken", SyntaxError("invalid\nsyntax"), "SyntaxError: invalid syntax"),
        ("number", 42, "it is not an EndStyle"),
        ("two-names", replace(PLAIN, name="other"), "its name is 'other'"),
        ("plain", replace(PLAIN, title="mine"), "already has this name"),
    ],
)
def test_a_bad_plug_in_is_left_out_with_the_reason(
    entries: list[Entry], name: str, found: object, why: str
) -> None:
    entries.append(Entry(name, "elsewhere:END", found))
    assert set(registry.styles()) == IN_TREE
    (finding,) = registry.skipped()
    assert finding.code == "end-style-skipped"
    assert finding.severity == "warning"
    assert why in finding.message
    assert "elsewhere:END" in finding.message
    assert "\n" not in finding.message


def test_a_stranger_cannot_take_an_in_tree_name(entries: list[Entry]) -> None:
    entries.insert(0, Entry("plain", "aaa.first:END", replace(PLAIN, title="mine")))
    assert registry.get("plain") is PLAIN


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
    assert set(style.keeps) <= {"bend_radius", "loop_radius", "hook_length", "opening"}
