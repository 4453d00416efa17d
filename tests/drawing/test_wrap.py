"""Texts are broken at blanks, in long words where the catalogue says, and nowhere else."""

from __future__ import annotations

import pytest

from springgeo.drawing import PAPERS, Paper, measured
from springgeo.drawing.measured import SOFT, text_width, wrap
from springgeo.specification.load import presets
from tests.drawing.overlap import READERS, all_sheets
from tests.gate import thinned
from tests.springs import kept

pytest.importorskip("matplotlib")
pytest.importorskip("shapely")
PRESETS = sorted(presets())


def test_a_long_word_is_broken_where_its_catalogue_allows() -> None:
    word = f"Spannungsarm{SOFT}glühen"
    wide = text_width(word, 2.5)
    assert wrap(word, 2.5, wide) == ["Spannungsarmglühen"]
    assert wrap(word, 2.5, wide - 0.1) == ["Spannungsarm-", "glühen"]
    assert wrap("Federn", 2.5, text_width("Feder", 2.5)) == ["Feder", "n"]


def test_a_tolerance_keeps_its_unit_and_what_strays() -> None:
    """It read "0,042 ±0,042" above "in", and a note ended a line with ±."""
    text = "0,042 ±0,042 in"
    wide = text_width(text, 2.5)
    assert wrap(text, 2.5, wide) == [text.replace(" ", "\u00a0")]
    assert wrap(text, 2.5, wide - 0.1) == ["0,042", "±0,042\u00a0in"]
    note, short = "coupé du fil ; ± m", text_width("coupé du fil ; ±", 2.5)
    assert wrap(note, 2.5, short + 0.1) == ["coupé du fil ;", "±\u00a0m"]
    at, short = "banc, à L1 = 60,5 mm", text_width("banc, à L1 = 60,5", 2.5)
    assert wrap(at, 2.5, short + 0.1) == ["banc, à", "L1\u00a0=\u00a060,5\u00a0mm"]


@pytest.mark.parametrize(
    ("name", "paper", "reader"),
    thinned(4, [PRESETS[2], PRESETS[-1]], list(PAPERS), range(len(READERS))),
)
def test_no_word_of_a_preset_is_cut(
    name: str, paper: Paper, reader: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut(word: str, height: float, width: float) -> tuple[str, str]:
        raise AssertionError(f"{word!r} is cut on a column of {width:.1f} mm")

    monkeypatch.setattr(measured, "_cut", cut)
    for _, _, page in all_sheets(kept(name), paper, READERS[reader : reader + 1]):
        assert not any(SOFT in text.text for text in page.texts)
