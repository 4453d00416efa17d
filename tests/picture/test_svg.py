"""The small picture: well-formed, to scale, the same every time."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

import springgeo as sg
from springgeo.curve import tube_box
from springgeo.spec.load import presets


@pytest.mark.parametrize("name", presets())
def test_it_shows_the_whole_spring_to_scale(name: str) -> None:
    spring = sg.Spring.from_preset(name)
    text = spring.picture(800)
    ET.fromstring(text)
    lines = " ".join(re.findall(r' d="([^"]+)"', text))
    numbers = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", lines)
    drawn = np.array(numbers, dtype=float)
    d = spring.spec.wire.diameter
    g = spring.model.geometry
    box = tube_box(g.path, g.diameter / 2)
    centre_span = box[1, 2] - box[0, 2] - d
    scale = 800 / (np.ptp(spring.centreline.point(np.linspace(0, g.path.length, 20001))[:, 2])
                   + 2 * d)
    assert np.ptp(drawn[:, 0]) == pytest.approx(centre_span * scale, abs=2.0)
    assert drawn.min() >= 0


def test_it_is_the_same_every_time_and_says_what_it_is() -> None:
    one, two = (sg.Spring.from_preset("gate-latch") for _ in range(2))
    assert one.picture() == two.picture()
    assert "gate latch" in one.picture()


def test_a_notebook_gets_picture_and_numbers() -> None:
    spring = sg.Spring.from_preset("gate-latch")
    html = spring._repr_html_()
    assert "<svg" in html
    assert f"{spring.summary().rate:.4g} N/mm" in html
    assert "http" not in html.replace("http://www.w3.org/2000/svg", "")


def test_a_name_with_markup_is_shown_as_text() -> None:
    data = sg.Spring.from_preset("gate-latch").spec.model_dump(exclude_none=True)
    spring = sg.Spring.from_dict(data | {"name": "<script>alert(1)</script>"})
    assert "<script" not in spring._repr_html_()
