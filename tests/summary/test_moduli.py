"""Moduli that belong to no wire are refused; what an unusual pair changes is said."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import springgeo as sg
from springgeo.errors import SpecError
from tests.springs import asked

BASE: dict[str, Any] = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"index": 8, "coils": 10, "initial_stress": 100},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": [25]},
}


def spring(**wire: Any) -> sg.Spring:
    return sg.Spring.from_dict({**BASE, "wire": {**BASE["wire"], **wire}})


@settings(max_examples=15, deadline=None)
@given(st.floats(-0.4, 0.9))
def test_poissons_ratio_lies_between_0_and_045(nu: float) -> None:
    G = 79000.0
    made = spring(shear_modulus=G, elastic_modulus=2 * G * (1 + nu))
    if 1e-9 < nu < 0.45 - 1e-9:
        assert asked(made).along_the_wire.poisson == pytest.approx(nu, abs=1e-9)
    elif not -1e-9 < nu < 0.45 + 1e-9:
        with pytest.raises(SpecError, match="Poisson") as caught:
            made.summary()
        assert caught.value.findings[0].code == "moduli-do-not-fit"


def test_one_modulus_against_the_materials_other() -> None:
    with pytest.raises(SpecError, match=r"wire.elastic_modulus"):
        spring(shear_modulus=150000).summary()


def test_a_ratio_beyond_what_was_tested_says_what_it_changes() -> None:
    found = {f.code: f for f in asked(spring(material="astm-a313-302")).findings}
    text = found["poisson-unusual"].message
    assert "0.40" in text
    assert "body" in text
    # the bending factor at the inside of a bend grows by 0.47 ν e: e = d/2r = 1/8 here
    effect = float(text.split("hook bending")[1].split("%")[0].split()[-1])
    assert effect == pytest.approx(100 * 0.47 * 0.1 / 8, abs=0.25)
    assert "poisson-unusual" not in {f.code for f in asked(spring()).findings}


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_stress_and_load_line_take_no_nonsense(bad: float) -> None:
    made = spring()
    with pytest.raises(SpecError, match="load"):
        made.stress(bad)
    with pytest.raises(SpecError, match="length"):
        made.load_curve.load(bad)
    if not bad < 0:
        with pytest.raises(SpecError, match="load"):
            made.load_curve.length(bad)


@pytest.mark.parametrize("share", [0.5, 0.999, 1.0, 1.2])
def test_no_load_pushes_the_spring(share: float) -> None:
    line = spring().load_curve
    if share < 1:
        with pytest.raises(SpecError, match="free length"):
            line.load(share * line.free_length)
    else:
        assert line.load(share * line.free_length) >= 0.0
