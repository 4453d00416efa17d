"""Whatever stands in a specification: it is checked or refused, and never anything else."""

from __future__ import annotations

import contextlib
import io
import math
import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.cli.main import run
from springgeo.ends import registry

from .conftest import GOOD

PARAMETERS = {n for s in registry.styles().values() for n in s.parameters.model_fields}
KEYS = {
    "wire": ["material", "diameter", "tensile_law", "tensile_strength", "shear_modulus"],
    "body": ["mean_diameter", "coils", "hand", "initial_tension", "initial_stress", "pitch", "gap"],
    "ends": ["a", "b", "angle"],
    "service": ["loads", "lengths", "duty", "cycles", "temperature", "forcing_frequency"],
}
NUMBERS = st.one_of(
    st.floats(),
    st.floats(0.0, 100.0),
    st.integers(-5, 500),
    st.sampled_from([1e308, -1e308, 5e-324, 1e-9, 10**30, math.nan, math.inf, 0, -0.0]),
)
UNITS = st.sampled_from(["mm", "in", "N", "lbf", "MPa", "deg", "degF", "%", "", "furlong"])
SCALARS = st.one_of(
    NUMBERS,
    st.builds("{} {}".format, NUMBERS, UNITS),
    st.text(max_size=12),
    st.booleans(),
    st.none(),
    st.sampled_from(["left", "cyclic", "infinite", "astm-a228", "table", "1-7/16 in", "1/0 in"]),
)
ENDS = st.fixed_dictionaries(
    {"style": st.one_of(st.sampled_from(sorted(registry.styles())), st.text(max_size=5))},
    optional=dict.fromkeys(sorted(PARAMETERS), st.one_of(st.floats(0, 30), SCALARS)),
)
VALUES = st.one_of(SCALARS, st.lists(SCALARS, max_size=3), ENDS)


@st.composite
def specifications(draw: st.DrawFn) -> dict[str, Any]:
    """Return the good specification with up to three places changed to anything."""
    data: dict[str, Any] = yaml.safe_load(GOOD)
    for _ in range(draw(st.integers(1, 3))):
        part = draw(st.sampled_from(sorted(KEYS)))
        key = draw(st.sampled_from(KEYS[part]))
        data[part][key] = draw(ENDS if key in ("first", "second") else VALUES)
    return data


@pytest.mark.parametrize("options", [[], ["--json"]], ids=["table", "json"])
@settings(max_examples=60)
@given(data=specifications())
def test_checked_or_refused(
    tmp_path_factory: pytest.TempPathFactory, options: list[str], data: dict[str, Any]
) -> None:
    file = Path(tmp_path_factory.getbasetemp()) / "any.yaml"
    file.write_text(yaml.safe_dump(data, allow_unicode=True), encoding="utf-8")
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = run(["check", str(file), *options])
    lines = err.getvalue().splitlines()
    if code == 0:
        assert lines == []
        assert not re.search(r"\b(nan|inf|infinity)\b", out.getvalue(), re.IGNORECASE)
    else:
        assert code == 2
        assert lines
        assert all(line.startswith("springgeo: ") for line in lines)
