"""Fitted ends on the sheet: their outline, their sizes for the maker, and nothing of the wire's."""

from __future__ import annotations

import pytest

from springgeo.drawing.layout import sights
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Sheet
from springgeo.drawing.sheet import sheet
from springgeo.drawing.view.seen import spring_seen
from springgeo.drawing.view.silhouette import silhouette
from tests.fittings.springs import FITTED, spring


@pytest.mark.parametrize("style", FITTED)
def test_the_outline_spans_what_the_box_spans(style: str) -> None:
    g = spring(style, "machine-half-loop").model.geometry
    for sight in sights("first"):
        seen = spring_seen(g, sight)
        left, bottom, right, top = seen.bounds
        corners = sight.flat(g.box)
        low, high = corners.min(axis=0), corners.max(axis=0)
        assert (left, bottom) == pytest.approx(low, abs=0.03)
        assert (right, top) == pytest.approx(high, abs=0.03)
        assert seen.fittings


@pytest.mark.parametrize("style", FITTED)
def test_a_part_hides_wire_and_wire_a_part(style: str) -> None:
    g = spring(style, "machine-half-loop").model.geometry
    front = sights("first")[0]
    seen, bare = spring_seen(g, front), silhouette(g.path, g.wire_diameter, front)
    # inside the coils only the near half of the wire is seen, with or without the part
    length = [sum(_length(line) for line in lines) for lines in (seen.lines, bare.lines)]
    assert 0.8 * length[1] < length[0] <= length[1] * (1 + 1e-9)
    (part,) = g.parts
    inner = g.first.hook_length + 0.2 * g.wire_diameter
    assert all(line[:, 0].max() < inner for line in seen.fittings), "seen through the coils"
    assert part.name == seen_name(style)


def seen_name(style: str) -> str:
    return "first." + ("plug" if "plug" in style else "shackle" if "shackle" in style else "swivel")


def _length(line) -> float:
    steps = line[1:] - line[:-1]
    return float((steps**2).sum(axis=1).__pow__(0.5).sum())


@pytest.mark.parametrize("style", FITTED)
def test_the_maker_reads_the_part(style: str) -> None:
    s = spring(style, "machine-half-loop")
    rows = [
        (r.symbol, r.quantity, r.value) for r in data_rows(Sheet(s.model, s.summary(), "metric"))
    ]
    text = "\n".join(" ".join(r) for r in rows)
    assert "nt all coils" in text
    assert "pull-out prove by test" in text
    for words, value in s.model.geometry.parts[0].sizes:
        (row,) = [r for r in rows if r[1].endswith(words) and "," in r[1]]
        assert float(row[2].removesuffix(" mm")) == pytest.approx(value, abs=0.006)
    page = sheet(s.model, s.summary())
    layers = {line.layer for line in page.lines}
    assert "FITTING" in layers
