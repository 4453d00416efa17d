"""A page in a browser whose spring is shown as mounted: each stop, and the way between them."""

from __future__ import annotations

import pytest

from springgeo.report import page as written
from springgeo.report.stroke import stroke_of
from tests.mounted import ASIDE, FREE, gate
from tests.report.acting import click, reading, slide

SERVICES = {
    "shorter than free at first": ({"loads": [2.0, 6.0, 25.0]}, {**FREE, "over_travel": 3.0}),
    "pushed at first": ({"lengths": [27.8], "loads": [20.0]}, ASIDE),
}


@pytest.mark.parametrize("name", SERVICES)
def test_each_stop_is_read_as_told(page, tmp_path, name) -> None:
    spring = gate(*SERVICES[name])
    file = tmp_path / "free.html"
    file.write_text(written(spring), encoding="utf-8")
    page.open(file)
    stroke = stroke_of(spring)
    for stop in stroke.stops:
        click(page, f'[data-load="{stop.load!r}"]')
        if stop.load < 0:
            words = page.run("document.getElementById('reading').textContent")
            assert words.replace("\xa0", " ").startswith("-1.26 N, 27.80 mm inside hooks")
            continue
        load, length, _, _ = reading(page)
        assert load == pytest.approx(stop.load, rel=5e-3)
        assert length == pytest.approx(stop.length, abs=0.0051)
        # and drawn where it is told: the second contact over the first
        i = [x.load for x in stroke.states].index(stop.load)
        drawn = page.run(
            "(() => { const w = document.getElementById('canvas').view.wire; return w.at; })()"
        )
        share = drawn[2]
        assert (drawn[0] if share < 0.5 else drawn[1]) == i
        assert min(share, 1 - share) == pytest.approx(0.0, abs=1e-6)
    # between two states it moves from the one to the other
    i = [x.load for x in stroke.states].index(0.0)
    a, b = stroke.states[i : i + 2]
    slide(page, (a.load + b.load) / 2 / stroke.load)
    _, length, _, _ = reading(page)
    assert min(a.length, b.length) < length < max(a.length, b.length)
