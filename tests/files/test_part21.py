"""Text of STEP files: every reference leads somewhere, and every number is a real of the standard.

Grammar of REAL and STRING: ISO 10303-21, from memory.
"""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from springgeo.files.step.part21 import Entities, append, real, string
from tests.files.part21 import entities

REAL = re.compile(r"[+-]?\d+\.\d*(E[+-]?\d+)?")


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_reals_have_a_point_and_every_digit(x):
    assert REAL.fullmatch(real(x))
    assert float(real(x)) == x


@pytest.mark.parametrize(
    ("x", "text"), [(7, "7."), (1e-5, "1.E-05"), (1.5e30, "1.5E+30"), (-0.25, "-0.25")]
)
def test_reals_look_like_the_kernels(x, text):
    assert real(x) == text


@given(st.text())
def test_strings_stay_inside_their_quotes(text):
    assert re.fullmatch(r"'[ -&(-~]*'", string(text))


def test_references_lead_somewhere_and_numbers_are_there_once(built):
    text = (built / "test-spring.step").read_text("ascii")
    found = entities(text)
    for _, refs in found.values():
        assert all(r in found for r in refs)
    # statements that say the same stand once, so that numbers are left out
    numbers = re.findall(r"^#(\d+) ?=", text, flags=re.M)
    assert len(numbers) == len(set(numbers)) == len(found)
    values = [float(x) for t, _ in found.values() for x in re.findall(r"MEASURE\(([^)]*)\)", t)]
    assert len(values) > 30
    assert all(map(math.isfinite, values))


def test_a_file_cut_short_takes_nothing_more(tmp_path):
    target = tmp_path / "a.step"
    target.write_text("ISO-10303-21;\nDATA;\n#1 = X(")
    more = Entities(2)
    more.add("Y()")
    assert not append(target, more)
    assert target.read_text().endswith("X(")
