"""Every number of the trade stands once, with its source; the tables as published."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import springgeo
from springgeo.text.safe_yaml import parse_own
from springgeo.trade.dimension_tolerance import (
    angle_allowance,
    diameter_allowance,
    length_allowance,
    tables,
)
from springgeo.trade.held import held
from springgeo.trade.practice import figures, practice

ROOT = Path(springgeo.__file__).parent
KNOWN = {"read", "from memory", "common practice", "this project's"}


def test_every_figure_and_table_has_a_source() -> None:
    for name, figure in figures().items():
        assert figure.source, name
        assert figure.known in KNOWN, name
    for name, table in tables().items():
        assert table["source"], name
        assert table["known"] in KNOWN, name
    limits = parse_own((ROOT / "trade" / "limits.yaml").read_text(encoding="utf-8"))
    assert all(row["source"] for row in limits.values())


@pytest.mark.parametrize("name", sorted(figures()))
def test_every_figure_is_used(name: str) -> None:
    texts = [p.read_text(encoding="utf-8") for p in ROOT.rglob("*.py")]
    assert any(f'practice("{name}")' in text for text in texts)


def test_standards_of_tolerance_are_named_in_one_data_file() -> None:
    rows = re.compile(r"^\s*- \[0\.07, 0\.10, 0\.15\]", re.MULTILINE)
    found = [p.name for p in ROOT.rglob("*.yaml") if rows.search(p.read_text(encoding="utf-8"))]
    assert found == ["dimension.yaml"]


@pytest.mark.parametrize(
    ("mean", "index", "value"),
    # DIN 2097, quality grade 2, as given in a spring maker's sheet (read)
    [
        (10, 8, 0.25),
        (10.8 - 1.2, (10.8 - 1.2) / 1.2, 0.25),  # 8 but for the dust of the subtraction
        (10, 8.01, 0.30),
        (10.1, 8, 0.30),
        (200, 20, 3.30),
        (0.64, 4, 0.07),
        (0.63, 8, None),
        (201, 8, None),
        (10, 3.9, None),
        (10, 20.1, None),
    ],
)
def test_diameter(mean: float, index: float, value: float | None) -> None:
    found = diameter_allowance(mean, index)
    assert (None if found is None else found.value) == value
    if found is not None:
        # what a search counts on is what the sheet asks of the maker
        assert held(mean / index, mean, 10, 50).mean_diameter == pytest.approx(found.value)


@pytest.mark.parametrize(
    ("length", "index", "trade", "value"),
    [
        (40, 8, "metric", 0.80),
        (40.1, 9, "metric", 1.30),
        (500, 9, "metric", 7.5),
        (500, 21, "metric", None),
        (50, 21, "metric", None),
        (50.8, 21, "us", 0.040 * 25.4),
        (50.9, 3, "us", 0.060 * 25.4),
        (620, 8, "us", None),
    ],
)
def test_length(length: float, index: float, trade: str, value: float | None) -> None:
    found = length_allowance(length, index, trade)  # type: ignore[arg-type]
    assert (None if found is None else found.value) == pytest.approx(value)


@pytest.mark.parametrize(
    ("coils", "value"), [(2.4, None), (2.5, 25), (6.4, 25), (6.6, 35), (16, 60), (16.6, None)]
)
def test_angle(coils: float, value: float | None) -> None:
    found = angle_allowance(coils)
    assert (None if found is None else found.value) == value


def test_what_follows_from_the_figures() -> None:
    assert practice("coil_clearance") == 0.002
    assert practice("frequency_ratio") == 15
