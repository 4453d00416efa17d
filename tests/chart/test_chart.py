"""Charts: one description, two drawings that show the same; words find room."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.chart import Area, Axis, Chart, Dots, Label, Line, Marks, Rule, Stripe, keys, svg
from springgeo.chart.element import element
from springgeo.chart.layout import Layout
from springgeo.chart.pen import INLINE
from springgeo.chart.place import Box, boxed, place, width
from springgeo.chart.style import STYLES, sheet
from springgeo.chart.ticks import linear, logarithmic

WORDS = "<b> & \"'"


def every_item() -> Chart:
    return Chart(
        Axis(1, 100, "mass, g", log=True),
        Axis(0, 40, "load, N"),
        "all of it",
        (
            Area(((1, 0), (10, 30), (100, 0)), "preferred", "area"),
            Stripe(2, 20, "loop", "loop", "stripe"),
            Line(((1, 1), (100, 39)), "wire", "line"),
            Marks(((5, 5), (50, 30)), "point", "marks", "square", reach=(2.0, 3.0)),
            Dots(((2, 3), (3, 4), (4, 5)), "series-2", "dots"),
            Rule(60, "limit", WORDS),
            Label(5, 5, WORDS),
        ),
        told=WORDS,
        follows=False,
    )


def test_both_drawings_show_the_same_places():
    mpl = pytest.importorskip("springgeo.chart.mpl")
    pytest.importorskip("matplotlib")
    chart = every_item()
    layout = Layout(chart, svg.WIDE, svg.HIGH, svg.LETTER)
    axes = mpl.figure().subplots()
    mpl.draw(chart, axes)
    to_axes = axes.transData + axes.transAxes.inverted()
    e = layout.edges
    for x, y in ((1, 0), (10, 20), (100, 40), (3, 33)):
        u, v = layout.at(x, y)
        share = (u - e.left) / (e.right - e.left), (e.bottom - v) / (e.bottom - e.top)
        assert share == pytest.approx(tuple(to_axes.transform((x, y))))
    shown = {t.get_text() for t in axes.get_legend().get_texts()}
    assert shown == {k.words for k in keys(chart)}


@pytest.mark.parametrize("pen", ["page", "inline"])
def test_svg_is_well_formed_whatever_the_words(pen):
    text = svg.drawing(every_item()) if pen == "page" else ""
    if pen == "inline":
        text = element("svg", svg.panel(Layout(every_item(), 300, 200, 11)))
    root = ET.fromstring(text)
    assert WORDS in list(root.itertext())
    dots = [e.get("d", "") for e in root.iter("path") if "h0" in e.get("d", "")]
    assert [d.count("h0") for d in dots] == [3]
    # a page's policy forbids styles in elements; a drawing on its own needs them
    classed = [e for e in root.iter() if e.get("class", "").startswith("c-")]
    assert bool(classed) == (pen == "page")
    assert bool([e for e in root.iter() if e.get("stroke")]) == (pen == "inline")


def test_every_role_has_a_rule_and_a_look_of_its_own():
    text = sheet()
    for role in STYLES:
        assert f".c-{role} {{" in text
        assert INLINE.line(role)["fill"]
    # bending and shear differ in dash as well as in hue
    assert STYLES["bending"].dash != STYLES["shear"].dash


points = st.tuples(st.floats(0, 400), st.floats(0, 300))


@given(
    st.lists(st.tuples(points, st.sampled_from(["A 974", "F1 15 N, 44.29 mm", "body"])), max_size=4)
)
def test_words_stay_inside_and_apart(wanted):
    edges = Box(0, 0, 400, 300)
    asked = [(u, v, text) for (u, v), text in wanted]
    spots = place(asked, edges, [], np.zeros((0, 2)), 13.5)
    for i, s in enumerate(spots):
        area = (s.box.right - s.box.left) * (s.box.bottom - s.box.top)
        assert s.box.shared(edges) == pytest.approx(area)
        for other in spots[:i]:
            assert s.box.shared(other.box) == 0


def test_words_avoid_marks_and_lines():
    edges, mark = Box(0, 0, 400, 300), Box(205, 80, 260, 110)
    line = np.column_stack([np.linspace(0, 400, 100), np.full(100, 112.0)])
    (spot,) = place([(200, 100, "A 974")], edges, [mark], line, 13.5)
    assert spot.box.shared(mark) == 0
    assert not ((line[:, 1] > spot.box.top) & (line[:, 1] < spot.box.bottom)).any()


def test_no_common_letter_is_wider_than_is_reckoned():
    """Advance widths of DejaVu Sans, bold and not, as its own tables give them."""
    pytest.importorskip("matplotlib")
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextToPath

    for text in ("1500", "F2 60 N, 75.12 mm", "along the wire, mm", "B 422 ± 141", "MPa (WM)"):
        for weight in ("normal", "bold"):
            face = FontProperties(family="DejaVu Sans", weight=weight, size=10)
            true, _, _ = TextToPath().get_text_width_height_descent(text, face, ismath=False)
            assert true <= width(text, 10, bold=weight == "bold") < 1.6 * true
    box = boxed(50, 50, "1500", "end", 10)
    assert box.right == 50
    assert box.top < 50 < box.bottom


@pytest.mark.parametrize(("low", "high"), [(0, 33), (1e-4, 3e-4), (-5, 5), (990, 1010)])
def test_ticks_are_round_and_within(low, high):
    found = linear(low, high)
    assert 2 <= len(found) <= 6
    assert all(low <= x <= high for x in found)
    assert np.allclose(np.diff(found), found[1] - found[0])


@pytest.mark.parametrize(("low", "high"), [(3, 60), (1, 2), (0.02, 900)])
def test_logarithmic_ticks_lie_within(low, high):
    found = logarithmic(low, high)
    assert found == sorted(found)
    assert len(found) >= 3
    assert all(low <= x <= high for x in found)
