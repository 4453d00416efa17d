"""Whatever stands in a text, a reader returns a value or raises one of the project's own errors."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo import materials, units
from springgeo.cli.commands.lists.new import STARTER
from springgeo.cli.starters import FAMILY, JOB, READINGS
from springgeo.errors import SpecError, SpringgeoError
from springgeo.family import read_family
from springgeo.materials import gauges
from springgeo.measure import read_readings
from springgeo.sizing import read_job
from springgeo.sizing.job.quantity import parse_product
from springgeo.specification.load import read_spec
from springgeo.text.characters import hidden
from springgeo.text.state_words import parse_state
from springgeo.text.yaml_text import read_yaml

MATERIAL = (Path(materials.__file__).parent / "data" / "astm-a228.yaml").read_text("utf-8")
# what breaks readers of YAML and numbers, beside letters
PIECES = st.sampled_from(
    [
        *"{}[]:,-#&*!|>%@`'\"?~\\\n\t\r \x00\x1b\x85\u2028\ufeff\u03bc\u2212",
        *("!!int ''", "!!timestamp x", "<<: {}", "? ", "&a ", "*a", "- ", "---\n", "...\n"),
        *("1e999", "-1e-999", "0x1f", "010", "1:30", "2024-01-01", ".nan", ".inf", "9" * 5000),
        *("1,2 mm", "1,200", "18 ga", "1/0 in", "yes", "null", "302", "1.4310", "\\UFFFFFFFF"),
    ]
)
TEXTS = st.lists(st.one_of(PIECES, st.text(max_size=4)), max_size=12).map("".join)


@st.composite
def spoilt(draw: st.DrawFn, text: str) -> str:
    """Return a text of ours with a few pieces put in, or a line gone or written twice."""
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text)))
        gone = draw(st.sampled_from([0, 0, 1, 3, 20]))
        text = text[:at] + draw(st.one_of(PIECES, TEXTS)) + text[at + gone :]
    return text


READERS: dict[str, tuple[str, Callable[[Path], Any]]] = {
    "spring.yaml": (STARTER, read_spec),
    "job.yaml": (JOB, read_job),
    "readings.yaml": (READINGS, read_readings),
    "family.yaml": (FAMILY, read_family),
    "material.yaml": (MATERIAL, materials.load),
    "family.csv": ("name,wire.diameter,body.index\na,1,8\nb,'1,2',9\n", read_family),
    "readings.csv": ("wire_diameter;1,2\ncoils;18\npull;45;9\n", read_readings),
}


@pytest.mark.parametrize("name", READERS)
@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_files(tmp_path_factory: pytest.TempPathFactory, name: str, data: st.DataObject) -> None:
    text, read = READERS[name]
    file = tmp_path_factory.getbasetemp() / name
    given_text = data.draw(st.one_of(spoilt(text), TEXTS))
    file.write_text(given_text, encoding="utf-8", errors="surrogatepass", newline="")
    with contextlib.suppress(SpringgeoError):
        read(file)


@settings(max_examples=300, deadline=None)
@given(TEXTS)
def test_yaml(text: str) -> None:
    try:
        found = read_yaml(text, "x")
    except SpecError as exc:
        assert hidden(str(exc)) is None  # noqa: PT017 - what is printed of it
        return
    assert all(isinstance(key, str) for key in found)


@settings(max_examples=300)
@given(st.one_of(TEXTS, st.floats(), st.integers()), st.sampled_from(sorted(units.FACTORS)))
def test_units(value: object, kind: str) -> None:
    with contextlib.suppress(ValueError):
        assert math.isfinite(units.parse(value, kind))
    with contextlib.suppress(ValueError):
        assert math.isfinite(parse_product(value))


@settings(max_examples=200)
@given(TEXTS)
def test_states(word: str) -> None:
    with contextlib.suppress(SpecError):
        state = parse_state(word)
        assert math.isfinite(state.load or 0.0)
        assert math.isfinite(state.length or 0.0)


@settings(max_examples=200)
@given(st.builds("{}{} {}".format, st.sampled_from(["", "#", "no."]), st.text(max_size=4), TEXTS))
def test_names_of_wire(text: str) -> None:
    with contextlib.suppress(SpecError):
        assert materials.resolve(text)
    if gauges.is_gauge(text):
        with contextlib.suppress(SpecError):
            assert 0.05 < gauges.diameter(text, "astm-a228") < 15
