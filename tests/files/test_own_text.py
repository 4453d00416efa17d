"""The specification inside the files is the author's own text, units and remarks and all."""

from __future__ import annotations

import json
from pathlib import Path

from springgeo import Spring
from springgeo.files.step.read import read_step
from tests.springs import kept

TEXT = """\
# für die Klappe; "as drawn"
units: inch
wire: {material: astm-a228, diameter: 0.047 in}
body: {mean_diameter: 0.378 in, coils: 8}
ends: {a: machine-half-loop, b: machine-half-loop}
service: {loads: [5 lbf, 8 lbf]}
"""


def test_json_and_step_hold_the_text_that_was_read(tmp_path: Path) -> None:
    (tmp_path / "s.yaml").write_text(TEXT, encoding="utf-8")
    spring = Spring.from_file(tmp_path / "s.yaml")
    files = spring.export(tmp_path / "out")
    (step,) = (p for p in files if p.suffix == ".step")
    (beside,) = (p for p in files if p.suffix == ".json")
    inside = read_step(step).attributes["springgeo-summary"].value
    for text in (inside, beside.read_text("ascii")):
        found = json.loads(text)
        assert found["specification_text"] == TEXT
        assert found["specification"]["wire"]["diameter"] == 1.1938
        assert found["units"].startswith("mm, N, MPa")


def test_there_is_none_where_nobody_wrote_one() -> None:
    spring = kept("gate-latch")
    assert spring.summary().specification_text == spring.specification_text
    assert spring.with_(wire__diameter=1.25).summary().specification_text is None
    data = spring.spec.model_dump(mode="json", exclude_none=True)
    assert Spring.from_dict(data).summary().specification_text is None
