from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pytest

from springgeo.cli.main import run
from springgeo.sizing import Found, Job, job_of, size
from springgeo.sizing.answer.plot import AXES, front_svg
from springgeo.sizing.size import Result

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def result(hatch: Job) -> Result:
    return size(hatch.model_copy(update={"method": "handbook"}), 4)


def test_every_design_and_choice_is_on_it(result: Result) -> None:
    text = front_svg(result)
    assert text is not None
    assert text == front_svg(result)
    root = ET.fromstring(text)
    *panels, legend = root.findall(f"{SVG}g")
    assert len(panels) == 3  # three objectives: three pairs
    assert "choices 1 to 4" in "".join(legend.itertext())
    dots = [p for p in panels[0].findall(f"{SVG}path") if p.get("stroke-linecap") == "round"]
    assert sum(p.get("d", "").count("h0") for p in dots) == len(result.found.places)
    numbers = {t.text for t in panels[0].findall(f"{SVG}text")}
    assert {"1", "2", "3", "4"} <= numbers
    words = "".join(root.itertext())
    for name in result.found.job.objectives:
        assert AXES[name][0] in words


def test_dots_lie_where_their_values_are(result: Result) -> None:
    root = ET.fromstring(front_svg(result) or "")
    panel = root.findall(f"{SVG}g")[0]
    drawn = []
    for p in panel.findall(f"{SVG}path"):
        if p.get("stroke-linecap") == "round":
            drawn += [
                [float(x) for x in at.removesuffix("h0").split()]
                for at in p.get("d", "M").split("M")[1:]
            ]
    x, y = np.array(drawn).T
    mass, margin = result.found.costs[:, 0], 1 / result.found.costs[:, 1]
    # logarithmic axes: equal ratios, equal distances, upward on the page for the greater margin
    for at, value in ((x, mass), (-y, margin)):
        place = np.log(value / value.min()) / np.log(value.max() / value.min())
        assert np.sort(at) == pytest.approx(at.min() + np.ptp(at) * np.sort(place), abs=0.15)


def test_names_are_escaped_and_one_objective_has_no_picture(found: Found) -> None:
    choice = {"materials": ["astm-a228"], "ends": ["machine-half-loop"], "series": ["en-iso"]}
    job = {
        "name": "<a & b>",
        "choice": choice,
        "method": "handbook",
        "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
    }
    ET.fromstring(front_svg(size(job_of(job), 1)) or "")
    assert front_svg(size(job_of(job | {"objectives": ["mass"]}), 1)) is None


def test_the_command_writes_it(tmp_path: Path) -> None:
    (tmp_path / "j.yaml").write_text(
        "points: [{length: 60, load: 15}, {length: 75, load: 30}]\nmethod: handbook\n"
        "choice: {materials: [astm-a228], series: [en-iso], ends: [machine-half-loop]}\n"
    )
    assert run(["size", str(tmp_path / "j.yaml"), "-o", str(tmp_path / "out"), "--top", "1"]) == 0
    ET.parse(tmp_path / "out" / "front.svg")
