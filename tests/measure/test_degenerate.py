"""Readings that say nothing of a line are refused, and nothing but the project's errors escapes."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.errors import SpecError, SpringgeoError
from springgeo.measure import measure, read_readings
from springgeo.measure.line_fit import fit_line
from springgeo.measure.readings import Readings

from .test_measure import bench


def _read(folder: Path, data: dict[str, Any]) -> Any:
    path = folder / "readings.yaml"
    path.write_text(yaml.safe_dump(data))
    return measure(read_readings(path))


@pytest.mark.parametrize(
    ("pulls", "words"),
    [
        (5, "pulls: needs a list"),
        ({"length": 1}, "pulls: needs a list"),
        ([5, 6, 7], "needs a mapping"),
        ([{"length": 45, "load": 9} for _ in range(4)], "pull further"),
        ([{"length": 45 + i * 1e-9, "load": 9 + i} for i in range(4)], "pull further"),
        ([{"length": 45 + i, "load": 9} for i in range(4)], "does not rise"),
        ([{"length": 1e300, "load": 9 + i} for i in range(3)], "must be 1e\\+06 or less"),
        ([{"length": 45 + i, "load": 1e-300} for i in range(3)], "must be 1e-06 or more"),
    ],
)
def test_pulls_that_are_none(tmp_path: Path, pulls: object, words: str) -> None:
    with pytest.raises(SpecError, match=words):
        _read(tmp_path, bench() | {"pulls": pulls})


@pytest.mark.parametrize(
    ("key", "value"),
    [("calliper", 1e-300), ("length_uncertainty", 0), ("load_uncertainty", 1e300), ("coils", 1e9)],
)
def test_uncertainties_that_no_instrument_has(tmp_path: Path, key: str, value: float) -> None:
    with pytest.raises(SpecError, match=key):
        _read(tmp_path, bench() | {key: value})


def test_two_lengths_many_times_give_a_line_without_a_bend() -> None:
    x = np.array([50.0, 50.0, 50.0, 60.0, 60.0, 60.0])
    line = fit_line(x, 5 + 1.3 * (x - 40), (40.0, 0.1), (0.1, 0.05))
    assert line.rate.value == pytest.approx(1.3, rel=1e-9)
    assert line.bend == 0.0


def test_the_bend_does_not_depend_on_the_scale() -> None:
    """A line in micrometres and one in metres bend alike (numpy's polyfit as the other answer)."""
    rng = np.random.default_rng(2)
    t = np.linspace(1, 10, 20)
    y = 5 + 1.3 * t + 0.02 * t**2 + rng.normal(0, 0.05, t.size)
    bends = []
    for scale in (1e-2, 1.0, 1e4):
        line = fit_line(t * scale, y, (0.0, 1e-3 * scale), (1e-3 * scale, 0.05))
        bends.append(line.bend)
        assert line.rate.value * scale == pytest.approx(np.polyfit(t, y, 1)[0], rel=1e-6)
    assert bends == pytest.approx([bends[1]] * 3, rel=1e-6)


CELLS = st.one_of(
    st.floats(allow_nan=True),
    st.floats(0.1, 100.0),
    st.text(max_size=8),
    st.sampled_from(["1,2 mm", "18 mwg", "18 ga", "302", "", "nan", "1e999", None, True, [], {}]),
)
KEYS = st.sampled_from(sorted({*Readings.model_fields, "bench", "nonsense"}))
PULLS = st.lists(
    st.fixed_dictionaries({"length": st.floats(38, 60), "load": st.floats(1e-3, 60)}), max_size=6
)


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(KEYS, st.one_of(CELLS, st.lists(CELLS, max_size=4), PULLS), max_size=3))
def test_any_readings_are_measured_or_refused(
    tmp_path_factory: pytest.TempPathFactory, spoilt: dict[str, Any]
) -> None:
    try:
        found = _read(tmp_path_factory.getbasetemp(), bench() | spoilt)
    except SpringgeoError:
        return
    assert np.isfinite([*found.line.rate, *found.line.tension, *found.shear_modulus]).all()


TEXT = st.text(st.sampled_from("pulwire_dam,;\t\"\n\r1234.-e#'\x00é\u2028"), max_size=120)


@settings(max_examples=150, deadline=None)
@given(TEXT, st.sampled_from(["", "length,load\n", "length;load\n", "wire_diameter,1\npull,"]))
def test_any_table_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, text: str, head: str
) -> None:
    from springgeo.measure.bench import read_bench

    path = tmp_path_factory.getbasetemp() / "any.csv"
    path.write_text(head + text, encoding="utf-8", newline="")
    for read in (read_bench, read_readings):
        with contextlib.suppress(SpringgeoError):
            read(path)
