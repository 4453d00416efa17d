"""Strength against printed rows: a wire maker's EN table, wire suppliers' ASTM sheets."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo import materials

KSI = 6.894757293168361
# rows of EN 10270-1 SM, read in a wire maker's table (two misprints of that page corrected)
SM = {
    0.5: (2200, 2470),
    1.0: (1980, 2220),
    1.6: (1830, 2050),
    2.0: (1760, 1970),
    2.5: (1690, 1890),
    3.0: (1630, 1830),
    4.0: (1530, 1730),
    5.0: (1460, 1650),
    6.0: (1400, 1580),
    8.0: (1310, 1480),
    10.0: (1240, 1400),
    16.0: (1090, 1230),
    20.0: (1020, 1150),
}
# inches and ksi, read in wire suppliers' data sheets after the standards (316: none)
ASTM = [
    ("astm-a228", 0.004, 439),
    ("astm-a228", 0.063, 293),
    ("astm-a228", 0.135, 258),
    ("astm-a228", 0.250, 230),
    ("astm-a227", 0.020, 283),
    ("astm-a227", 0.035, 261),
    ("astm-a227", 0.148, 203),
    ("astm-a227", 0.625, 147),
    ("astm-a227-2", 0.162, 231),
    ("astm-a229", 0.080, 235),
    ("astm-a229-2", 0.250, 211),
    ("astm-a231", 0.500, 190),
    ("astm-a313-302", 0.009, 325),
    ("astm-a313-302", 0.063, 258),
    ("astm-a313-302", 0.080, 246),
    ("astm-a401", 0.032, 300),
    ("astm-a313-631", 0.440, 235),
    ("astm-b159", 0.025, 145),
]


@pytest.mark.parametrize("grade", ["sm", "dm"])
@pytest.mark.parametrize("d", SM)
def test_en_10270_1_rows(grade: str, d: float) -> None:
    strength = materials.get(f"en-10270-1-{grade}").tensile(d)
    assert strength.maximum is not None
    assert (round(strength.minimum, -1), round(strength.maximum, -1)) == SM[d]


@pytest.mark.parametrize(("name", "inches", "ksi"), ASTM)
def test_astm_rows(name: str, inches: float, ksi: float) -> None:
    assert materials.get(name).tensile(inches * 25.4).minimum == pytest.approx(ksi * KSI, rel=1e-9)


def test_metric_rows() -> None:
    assert materials.get("astm-a232").tensile(12.0).minimum == pytest.approx(1320)
    assert materials.get("en-10270-3-1.4310-ns").tensile(1.0).minimum == 1900
    assert materials.get("en-10270-3-1.4310-hs").tensile(1.0).minimum == 2050
    assert materials.get("en-10270-3-1.4310-ns").tensile(1.01).minimum == 1850  # next band
    assert materials.get("en-10270-1-dh").tensile(0.06)[:2] == (2800, 3520)
    assert materials.get("en-10270-2-fdsicr").tensile(0.6)[:2] == (2100, 2300)


def test_between_rows_lies_between() -> None:
    a228 = materials.get("astm-a228")
    assert a228.tensile(2.032).minimum > a228.tensile(2.1).minimum > a228.tensile(2.159).minimum


@pytest.mark.parametrize("name", materials.names())
def test_strength_falls_as_wire_thickens(name: str) -> None:
    material = materials.get(name)
    for law in material.laws:
        block = material.data.tensile if law == "table" else material.data.tensile_laws[law]
        assert block is not None
        d = np.geomspace(*block.span, 400)
        change = np.diff(block.minimum(d))
        if block.kind == "power":
            # fits in pieces may step up by a little where they meet
            assert np.all(change <= 0.02 * block.minimum(d)[1:])
        elif block.kind == "table":
            assert np.all(change <= 1e-9)  # level inside a size band
        else:
            assert np.all(change <= 0)
            assert np.all(change[d[:-1] > 0.25] < 0)


def test_array_is_nan_outside_and_agrees_with_the_scalar() -> None:
    a228 = materials.get("astm-a228")
    low, middle, high, nothing = a228.tensile_minimum(np.array([0.05, 1.0, 9.0, np.nan]))
    assert middle == a228.tensile(1.0).minimum
    assert np.isnan([low, high, nothing]).all()
    assert np.isnan(materials.get("astm-a313-316").tensile_minimum([1.0])).all()
    assert a228.tensile_minimum(1.0).shape == ()
