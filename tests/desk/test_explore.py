"""A page to try out: every combination computed before, in one small offline file."""

from __future__ import annotations

import json
import re

import pytest

from springgeo import SpecError, Spring
from springgeo.cli.main import run
from springgeo.desk.explore import explored
from springgeo.text.shown import Shown
from tests.desk.test_desk import TEXT

VARY = {"wire.diameter": ["1 mm", "1.1 mm"], "body.coils": [6, 300]}


@pytest.fixture(name="data", scope="module")
def _data():
    spring = Spring.from_dict(small())
    text = explored(spring, {**VARY, "body.coils": [6, 8]}, Shown())
    return text, json.loads(re.search(r'id="view-data">(.*?)</script>', text, re.S)[1])


def small():
    import yaml

    return yaml.safe_load(TEXT)


def test_each_place_holds_the_summary_of_its_own_spring(data):
    _, found = data
    assert len(found["grid"]) == 4
    # the last slider runs fastest
    spring = Spring.from_dict(small()).with_({"wire.diameter": "1 mm", "body.coils": 8})
    rows = {r["key"]: r["value"] for r in found["grid"][1]["rows"]}
    assert rows["rate"] == spring.summary().rate
    assert rows["length.1"] == spring.summary().along_the_wire.points[0].length
    assert found["grid"][1]["view"]["states"][1] == pytest.approx(rows["length.1"], rel=1e-9)


def test_a_slider_says_whose_diameter_it_is(data):
    _, found = data
    assert [key["words"] for key in found["keys"]] == ["Wire, diameter", "Body, coils"]


def test_it_is_small_and_asks_for_nothing(data):
    text, _ = data
    assert len(text.encode()) < 5e6
    assert "connect-src 'none'" in text


@pytest.mark.parametrize(
    ("vary", "words"),
    [
        ({}, "give one to 3"),
        ({"body.coils": []}, "give one to 3"),
        ({k: [1] for k in "abcd"}, "give one to 3"),
        ({"body.coils": list(range(2, 200))}, "more than 150"),
        ({"body.coils": [1]}, "below the limit 2"),
        ({"body.coilz": [3]}, "did you mean"),
    ],
)
def test_what_cannot_be_explored_is_said(vary, words):
    with pytest.raises(SpecError, match=words):
        explored(Spring.from_dict(small()), vary, Shown())


@pytest.mark.parametrize(
    ("option", "words"),
    [
        ("body.coils", "write KEY=LOW..HIGH"),
        ("body.coils=6..8:1", "no number of places"),
        ("wire.diameter=1mm..0.05in", "in one unit"),
        ("wire.diameter=..2", "needs a number"),
    ],
)
def test_the_command_refuses_what_is_no_range(tmp_path, capsys, option, words):
    (tmp_path / "s.yaml").write_text(TEXT)
    out = str(tmp_path / "a.html")
    assert run(["report", str(tmp_path / "s.yaml"), "-o", out, "--explore", option]) == 2
    assert words in capsys.readouterr().err
