"""Labelled drawings: what is marked is what the centreline has."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from springgeo.cli.main import run
from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.plots.end_drawing import end_drawing
from springgeo.text.shown import Shown

STYLES = sorted(set(registry.names()) - {"traced"})


@pytest.mark.parametrize("style", STYLES)
def test_every_style_is_drawn_with_what_it_has(style: str) -> None:
    text = end_drawing(style)
    words = re.findall(r"<text[^>]*>([^<]*)</text>", text)
    assert text.startswith("<svg")
    assert "nan" not in text
    hook = registry.get(style).holds_load and style != "straight-annealed-end"
    # the pull is marked where a loop or a fitting bears it
    pulled = hook or "held coils" in words
    assert ("F" in words) == pulled
    assert ("A" in words) == registry.get(style).holds_load or not hook
    assert any(w.startswith("LH = ") for w in words) == pulled
    assert end_drawing(style) == text


def test_measures_are_those_asked_for() -> None:
    how = {"bend_radius": "3 mm", "opening": "5 mm"}
    text = end_drawing("machine-half-loop", how, Shown("mm"))
    for words in ("r1 = 7 mm", "r2 = 3 mm", "m = 5 mm"):
        assert words in text
    assert "r2 = 0.118 in" in end_drawing("machine-half-loop", how, Shown("inch"))


def test_the_command_draws_one_style(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "end.svg"
    assert run(["ends", "v-hook", "--picture", str(file)]) == 0
    assert file.read_text(encoding="utf-8").count("<text") >= 6
    assert run(["ends", "v-hook"]) == 0
    assert "raised" not in capsys.readouterr().out
    assert run(["ends", "v-hok"]) == 2
    assert "did you mean 'v-hook'" in capsys.readouterr().err
    assert run(["ends", "--picture", str(file)]) == 2
    with pytest.raises(SpecError):
        end_drawing("v-hook", {"no_such": 1})


@pytest.mark.parametrize("style", ["coned-swivel-eye", "screwed-in-shackle", "threaded-plug"])
def test_what_holds_a_fitting_is_labelled(style: str) -> None:
    svg = end_drawing(style)
    assert "LH = " in svg
    assert ">F</text>" in svg
    assert ">held coils</text>" in svg


@pytest.mark.parametrize("style", ["extended-hook", "long-square-end-hook", "v-hook"])
def test_labels_stand_in_the_picture(style: str) -> None:
    for x, anchor, text in re.findall(
        r'<text x="([-\d.]+)"[^>]*?text-anchor="(\w+)"[^>]*>([^<]*)<', end_drawing(style)
    ):
        assert anchor != "end" or float(x) > 7 * len(text), text
