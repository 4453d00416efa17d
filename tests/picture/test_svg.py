"""The small picture: well-formed, to scale, the same every time."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

import springgeo as sg
from springgeo.curve import tube_box
from springgeo.specification.load import presets
from tests.fittings.springs import FITTED
from tests.fittings.springs import spring as fitted
from tests.springs import kept


@pytest.mark.parametrize("name", presets())
def test_it_shows_the_whole_spring_to_scale(name: str) -> None:
    spring = kept(name)
    text = spring.picture(800)
    ET.fromstring(text)
    lines = " ".join(re.findall(r' d="([^"]+)"', text))
    numbers = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", lines)
    drawn = np.array(numbers, dtype=float)
    g = spring.model.geometry
    # the frame leaves half a wire beside what is widest, wire or part
    scale = 800 / (g.box[1, 2] - g.box[0, 2] + g.wire_diameter)
    box = tube_box(g.path, g.wire_diameter / 2)
    if not g.parts:
        assert np.ptp(drawn[:, 0]) == pytest.approx(
            (box[1, 2] - box[0, 2] - g.wire_diameter) * scale, abs=2.0
        )
    assert np.ptp(drawn[:, 0]) < 800
    assert drawn.min() >= 0


def test_it_is_the_same_every_time_and_says_what_it_is() -> None:
    one, two = (sg.Spring.from_preset("gate-latch") for _ in range(2))
    assert one.picture() == two.picture()
    assert "gate latch" in one.picture()


def test_a_notebook_gets_picture_and_numbers() -> None:
    spring = kept("gate-latch")
    html = spring._repr_html_()
    assert "<svg" in html
    assert f"{spring.summary().rate:.4g} N/mm" in html
    assert "http" not in html.replace("http://www.w3.org/2000/svg", "")


def test_a_name_with_markup_is_shown_as_text() -> None:
    data = kept("gate-latch").spec.model_dump(exclude_none=True)
    spring = sg.Spring.from_dict(data | {"name": "<script>alert(1)</script>"})
    assert "<script" not in spring._repr_html_()


@pytest.mark.parametrize("style", FITTED)
def test_a_fitted_end_is_drawn_among_the_coils(style: str) -> None:
    s = fitted(style, "machine-half-loop", hand="left")
    g, text = s.model.geometry, s.picture(800)
    pieces = re.findall(r"<path [^>]*/>", text)
    filled = [i for i, p in enumerate(pieces) if "fill=" in p]
    assert filled, "no part"
    # coils behind it are drawn before, coils in front after
    assert 0.1 * len(pieces) < min(filled)
    assert max(filled) < 0.9 * len(pieces)
    # its outer end is where the geometry says
    drawn = np.array(re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", " ".join(pieces)), dtype=float)
    scale = 800 / (g.box[1, 2] - g.box[0, 2] + g.wire_diameter)
    rods = [r for p in g.parts for r in [p.rod] if r is not None]
    inset = rods[0][1] if rods else 0.0  # a rod is drawn as a broad line on its centre
    assert drawn[:, 0].min() == pytest.approx((g.wire_diameter / 2 + inset) * scale, abs=2.0)
