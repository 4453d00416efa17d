"""The tube after it was written as STEP and read again keeps every bound."""

import numpy as np
import pytest

from springgeo.curve import tube_box
from springgeo.files.step.read import read_step
from springgeo.files.step.write import StepPart, write_step
from springgeo.solid import (
    exact_box,
    is_valid,
    surface_deviation,
    tube_properties,
    tube_solid,
    volume,
)

CASES = [
    {},
    {"crossing": True, "left": True},
    {"backward": True, "crossing": True},
    {"d": 0.05, "C": 3.0, "crossing": True},
    {"d": 0.05, "C": 25.0},
    {"d": 20.0, "C": 25.0, "left": True},
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_solid_survives(make_spring, tmp_path, case):
    path, d = make_spring(**case), case.get("d", 1.0)
    exact = tube_properties(path, d / 2)
    part = StepPart("wire", tube_solid(path, d / 2), properties=exact)
    write_step(tmp_path / "a.step", [part], product="p", description="", attributes={})
    solid = read_step(tmp_path / "a.step").shape
    assert is_valid(solid)
    assert surface_deviation(solid, path, d / 2) < 1e-6 * d
    assert abs(volume(solid) / exact.volume - 1) < 1e-6
    assert np.abs(exact_box(solid) - tube_box(path, d / 2)).max() < 1e-5 * d


def test_two_hundred_coils_survive(make_spring, tmp_path):
    path = make_spring(turns=200.0)
    exact = tube_properties(path, 0.5)
    part = StepPart("wire", tube_solid(path, 0.5), properties=exact)
    write_step(tmp_path / "a.step", [part], product="p", description="", attributes={})
    assert (tmp_path / "a.step").stat().st_size < 8e6
    solid = read_step(tmp_path / "a.step").shape
    assert is_valid(solid)
    assert abs(volume(solid, 1e-7) / exact.volume - 1) < 1e-6
