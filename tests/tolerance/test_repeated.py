"""The factor of repeated load strays too, and the nominal one is the summary's."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from springgeo.api import Spring
from springgeo.results.tolerance import Tolerance
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.closed_form import Nominal
from tests.springs import asked
from tests.tolerance.closed import SPRING

WAYS = {"handbook": "handbook", "along_the_wire": "along the wire"}


@pytest.fixture(scope="module")
def cyclic() -> Spring:
    service = {"lengths": ["45 mm", "55 mm"], "duty": "cyclic", "cycles": 1e6}
    data: dict[str, Any] = SPRING | {"service": service}
    L_0 = float(Handbook(Spring.from_dict(SPRING).model).L_0)
    service["lengths"] = [L_0 + 5, L_0 + 12]
    return Spring.from_dict(data)


def test_nominal_factors_are_the_summarys(cyclic: Spring) -> None:
    found = cyclic.tolerance(springs=1 << 12)
    fatigue = asked(cyclic).fatigue
    assert fatigue is not None
    told = {(x.way, x.place): x for x in found.spreads if x.quantity == "fatigue_factor"}
    wanted = {
        (way, place): facts.factor
        for key, way in WAYS.items()
        for place, facts in getattr(fatigue, key).items()
    }
    assert set(told) == set(wanted)
    for key, x in told.items():
        assert x.nominal == pytest.approx(wanted[key], rel=1e-6)
        assert 0 < x.low < x.nominal < x.high
        assert x.off_percent < 2
        assert x.inside is not None
        assert x.inside > 0.99 or x.low < 1


def test_the_closed_form_is_the_summary_of_a_spring_off_its_dimensions(cyclic: Spring) -> None:
    """A thinner wire at given loads: Gerber, Goodman and static factors by the summary itself."""
    given = cyclic.with_({"service.lengths": [], "service.loads": [15, 30]})
    nominal = Nominal.of(Handbook(given.model), hooks_rule=False)
    assert nominal.repeated is not None
    off = {"mean_diameter": np.array([0.0, -0.4, 0.4])}
    made = nominal.made(off)
    ends = [nominal.stresses(made, np.array(F), off)[0] for F in (15.0, 30.0)]
    assert ends[0] is not None
    assert ends[1] is not None
    factor = nominal.repeated.factor("body_shear", ends[0], ends[1], nominal.strength(off))
    for n, more in enumerate(off["mean_diameter"]):
        one = asked(given.with_({"body.mean_diameter": 9.6 + float(more)})).fatigue
        assert one is not None
        assert factor[n] == pytest.approx(one.handbook["body_shear"].factor, rel=1e-6)


def test_a_static_duty_has_none(found: Tolerance) -> None:
    assert not any("fatigue" in x.quantity for x in found.spreads)


@pytest.mark.slow
def test_what_is_not_answered_of_a_spectrum_is_said() -> None:
    parts = [{"loads": [12, 20], "count": 1e5}, {"loads": [12, 25], "count": 1e4}]
    service = {"loads": [12, 25], "duty": "cyclic", "spectrum": parts}
    found = Spring.from_dict(SPRING | {"service": service}).tolerance(springs=1 << 10)
    assert not any("fatigue" in x.quantity for x in found.spreads)
    assert any("load spectrum" in x for x in found.remarks)


def test_of_a_single_range_nothing_is_left_to_say(found: Tolerance) -> None:
    assert not any("load spectrum" in x for x in found.remarks)
