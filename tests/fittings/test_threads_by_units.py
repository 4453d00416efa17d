"""A thread of which nothing is said is of the series of the specification's units, everywhere."""

from __future__ import annotations

import pytest
import yaml

from springgeo import Spring
from springgeo.drawing import sheets
from springgeo.errors import SpecError
from springgeo.making import maker_data
from springgeo.sizing import job_of, size
from springgeo.sizing.answer.report import specification_text
from springgeo.specification.change import changed
from springgeo.text.shown import Shown
from springgeo.trade.threads import named

STYLES = ["threaded-plug", "coned-swivel-bolt"]


def spec(style: str, units: str, **parameters: object) -> dict[str, object]:
    return {
        "name": "a stud",
        "units": units,
        "wire": {"material": "astm-a228", "diameter": "2 mm"},
        "body": {"mean_diameter": "22 mm", "coils": 12},
        "ends": {"first": {"style": style, **parameters}, "second": {"style": "machine-half-loop"}},
        "service": {"loads": ["40 N"]},
    }


@pytest.mark.parametrize("style", STYLES)
def test_in_inches_it_is_unified_in_summary_solid_sheet_and_checks(style: str) -> None:
    """It was metric: M10 in a file that is in inches throughout."""
    spring = Spring.from_dict(spec(style, "inch"))
    built = str(spring.model.geometry.first.built["thread"])
    thread = named(built)
    assert thread is not None
    assert thread.series == "unified"
    # the solid is turned to that diameter
    radii = [r for part in spring.model.geometry.parts for r, _ in part.form.profile]
    assert min(abs(2 * r - thread.diameter) for r in radii) < 1e-9
    summary = spring.summary()
    shown = Shown("inch", typeset=True)
    texts = [t.text for page in sheets(spring.model, summary, "A4", shown) for t in page.texts]
    assert any("UNC" in t for t in texts)
    checks = maker_data(spring.model, summary, "us").inspection
    assert any(built in str(c) for c in checks)
    # whoever reads the specification again, which is in mm then, builds the same
    again = Spring.from_dict(dict(summary.specification))
    assert again.model.geometry.first.built["thread"] == built
    assert again.free_length == spring.free_length


@pytest.mark.parametrize("style", STYLES)
def test_in_mm_it_is_metric_and_what_is_said_counts_in_any_units(style: str) -> None:
    metric = Spring.from_dict(spec(style, "mm")).model.geometry.first.built["thread"]
    assert str(metric).startswith("M")
    diameter = "stud_diameter" if style == STYLES[0] else "shank_diameter"
    size = named(str(metric))
    assert size is not None
    for said in ({"thread": metric}, {diameter: size.diameter}, {"thread": "M"}):
        found = Spring.from_dict(spec(style, "inch", **said)).model.geometry.first.built
        assert found["thread"] == metric
    unified = Spring.from_dict(spec(style, "inch")).model.geometry.first.built["thread"]
    said_in_mm = Spring.from_dict(spec(style, "mm", thread="unc")).model.geometry.first.built
    assert said_in_mm["thread"] == unified


@pytest.mark.parametrize("style", STYLES)
def test_another_diameter_takes_the_place_of_the_series(style: str) -> None:
    model = Spring.from_dict(spec(style, "inch")).model
    diameter = "stud_diameter" if style == STYLES[0] else "shank_diameter"
    other = changed(model.spec, {f"ends.first.{diameter}": 4.5})
    built = Spring(other).model.geometry.first.built
    assert built.get(diameter) == 4.5
    with pytest.raises(SpecError, match="same thing"):
        Spring.from_dict(spec(style, "inch", thread="M5", **{diameter: 4.5}))


def test_a_size_in_inches_is_checked_with_the_thread_that_its_file_builds() -> None:
    job = {
        "units": "inch",
        "name": "plug",
        "points": [{"length": "3 in", "load": "3 lbf"}, {"length": "3.6 in", "load": "6 lbf"}],
        "initial_tension": "any",
        "choice": {
            "materials": ["astm-a228"],
            "wire_sizes": ["0.055 in"],
            "ends": ["threaded-plug"],
        },
    }
    (found,) = size(job_of(job), top=1).winners
    again = yaml.safe_load(specification_text(found, "plug", Shown("inch")))
    built = Spring.from_dict(again)
    assert built.spec.ends.first.parameters["thread"] == "UNC"
    assert built.summary().parts == found.summary.parts
