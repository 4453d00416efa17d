"""A thread of which nothing is said is of the series of the specification's units, everywhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
import yaml

from springgeo import Spring
from springgeo.drawing import sheets
from springgeo.ends import registry
from springgeo.ends.from_function import end_style
from springgeo.ends.protocol import BodyEnd, ByUnits, EndShape
from springgeo.errors import SpecError
from springgeo.making import maker_data
from springgeo.sizing import job_of, size
from springgeo.sizing.answer.report import specification_text
from springgeo.specification.change import changed
from springgeo.summary.ends_compared import compare_ends
from springgeo.testing import check_end_style
from springgeo.text.quantity import Units
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


@pytest.mark.parametrize("asked", ["mm", "inch"])
@pytest.mark.parametrize("of_job", ["mm", "inch"])
@pytest.mark.parametrize("style", STYLES)
def test_a_size_is_checked_with_the_thread_that_its_file_builds(
    style: str, of_job: Units, asked: Units
) -> None:
    """A job in mm, read in inches, was checked with M6 and its file built 1/4-20 UNC."""
    job = {
        "units": of_job,
        "name": "plug",
        "points": [{"length": "3 in", "load": "3 lbf"}, {"length": "3.6 in", "load": "6 lbf"}],
        "initial_tension": "any",
        "choice": {
            "materials": ["astm-a228"],
            "wire_sizes": ["0.055 in"],
            "ends": [style],
        },
    }
    (found,) = size(job_of(job), top=1).winners
    again = yaml.safe_load(specification_text(found, "plug", Shown(asked)))
    built = Spring.from_dict(again)
    assert built.spec.units == asked
    thread = named(str(built.model.geometry.first.built["thread"]))
    assert thread is not None
    assert thread.series == {"mm": "metric", "inch": "unified"}[of_job]
    assert built.summary().parts == found.summary.parts


def test_what_is_named_a_thread_elsewhere_is_left_alone(mine: Any) -> None:
    """A style of somebody else's with a ``thread`` of its own kind was told that it is UNC."""
    mine(wood_screw)
    made = Spring.from_dict(spec("wood-screw", "inch"))
    assert "thread" not in made.spec.ends.first.parameters
    assert made.model.geometry.first.built["thread"] == "5 x 40"
    checks = maker_data(made.model, made.summary(), "us").inspection
    assert not any("5 x 40" in str(c) for c in checks)


def test_a_style_says_itself_what_follows_the_units(mine: Any) -> None:
    style = mine(replace(wood_screw, by_units=(ByUnits("thread", "5 x 40", "No. 10", ("bore",)),)))
    check_end_style(style, springs=6)
    built = [
        Spring.from_dict(spec("wood-screw", *said)).model.geometry.first.built["thread"]
        for said in (("mm",), ("inch",))
    ]
    assert built == ["5 x 40", "No. 10"]
    other = Spring.from_dict(spec("wood-screw", "inch", bore=3.0))
    assert "thread" not in other.spec.ends.first.parameters
    # what is compared for a specification is what it would be built with
    model = Spring.from_dict(spec("plain", "inch")).model
    seen.clear()
    compare_ends(model)
    assert "No. 10" in seen


seen: list[str | None] = []


@end_style(holds_load=False)
def wood_screw(end: BodyEnd, thread: str | None = None, bore: float | None = None) -> EndShape:
    """Half a loop that stands for a screw."""
    seen.append(thread)
    loop = registry.get("machine-half-loop")
    shape = loop.shape(loop.parameters(), end)
    own: dict[str, float | str] = {} if bore is None else {"bore": bore}
    return replace(shape, built={"thread": thread or "5 x 40", **own})


@pytest.fixture
def mine() -> Iterator[Any]:
    """Return a function that registers a style while a test runs."""
    kept = dict(registry._known._loaded), set(registry._known._registered)
    yield registry.register
    registry._known._loaded, registry._known._registered = kept
