"""The choices of a job as a page: the front, each choice's shape, and why nothing fits."""

from __future__ import annotations

import html
import json
import re

import pytest

from springgeo.comparing.sizes import sizes_page
from springgeo.sizing import size
from springgeo.text.shown import Shown

pytestmark = pytest.mark.slow
JOB = {
    "name": "small job",
    "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
    "choice": {
        "materials": ["astm-a228"],
        "ends": ["machine-half-loop"],
        "wire_sizes": [1.0, 1.1, 1.2],
    },
}


@pytest.fixture(name="result", scope="module")
def _result():
    return size(JOB, top=2)


def data_of(text):
    return json.loads(re.search(r'id="view-data">(.*?)</script>', text, re.S)[1])


def test_each_choice_has_its_shape_at_the_load_of_the_job(result):
    text = sizes_page(result, Shown())
    data = data_of(text)
    assert len(data["choices"]) == len(result.winners) == 2
    for choice, winner in zip(data["choices"], result.winners, strict=True):
        # the job's own length at its own load
        assert choice["view"]["load"] == pytest.approx(30, rel=1e-3)
        assert choice["view"]["states"][-1] == pytest.approx(75, rel=1e-3)
        assert choice["costs"] == winner.candidate.cost
    assert "connect-src 'none'" in text
    assert len(text.encode()) < 5e6


def test_every_point_of_the_front_can_be_asked_for(result):
    data = data_of(sizes_page(result, Shown()))
    assert len(data["front"]) == len(result.found.places)
    assert {d["wire"] for d in data["front"]} <= {1.0, 1.1, 1.2}
    assert all(len(d["costs"]) == len(data["objectives"]) for d in data["front"])


def test_a_job_that_nothing_fits_says_why(tmp_path, capsys):
    from springgeo.cli.main import run

    (tmp_path / "job.yaml").write_text(
        json.dumps({**JOB, "envelope": {"outer_diameter": 2}}), encoding="utf-8"
    )
    assert run(["size", str(tmp_path / "job.yaml"), "-o", str(tmp_path / "out"), "--page"]) == 2
    text = html.unescape((tmp_path / "out" / "choices.html").read_text("utf-8"))
    # typeset on the page, plain in the terminal
    text = text.replace("\u00a0", " ").replace("−", "-").replace("\u202f", "")
    assert "Why nothing fits" in text
    reasons = [
        line.removeprefix("springgeo:").strip() for line in capsys.readouterr().err.splitlines()
    ]
    assert any(r and r in text for r in reasons[2:]), reasons
