"""Springs of all kinds: given by length, below their tension, without loads, absurdly wide."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from springgeo.api import Spring
from springgeo.errors import SpecError
from springgeo.results.tolerance import Tolerance
from springgeo.specification.tolerances import Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.adjusting import free_of
from springgeo.tolerance.inputs import inputs
from springgeo.tolerance.truth import asked_points
from tests.springs import asked
from tests.tolerance.closed import SPRING, uncorrected

FEW = 1 << 12
# only what costs no equilibrium of another spring
QUICK = {
    "wire_diameter": 0,
    "coil_diameter": 0,
    "coils": 0,
    "initial_tension": 0,
    "shear_modulus": 0,
}


def _answer(changes: dict[str, Any], tolerances: dict[str, Any]) -> Tolerance:
    body = {**SPRING["body"], **changes.pop("body", {})}
    return Spring.from_dict({**SPRING, **changes, "body": body}).tolerance(tolerances, springs=FEW)


def _codes(t: Tolerance) -> set[str]:
    return {f.code for f in t.findings}


def test_the_same_spring_and_seed_have_the_same_bytes() -> None:
    first, again = (_answer({}, QUICK).json_text() for _ in range(2))
    assert first == again
    other = Spring.from_dict(SPRING).tolerance(QUICK, springs=FEW, seed=2)
    assert other.json_text() != first
    assert other.inside == pytest.approx(_inside(first), abs=2e-3)


def _inside(text: str) -> float:
    return float(text.split('"inside": ')[1].split(",")[0])


def test_both_hands_stray_alike() -> None:
    left, right = (_answer({"body": {"hand": hand}}, QUICK) for hand in ("left", "right"))
    for a, b in zip(left.spreads, right.spreads, strict=True):
        assert a.mean == pytest.approx(b.mean, rel=1e-6)
        assert a.deviation == pytest.approx(b.deviation, rel=1e-5)


def test_at_a_length_stress_strays_with_the_load_and_under_a_load_it_does_not() -> None:
    under = _answer({"service": {"loads": [30]}}, QUICK)
    length = Spring.from_dict(SPRING).load_curve.length(30)
    at = _answer({"service": {"lengths": [length]}}, QUICK)
    margins = [[s for s in t.spreads if s.quantity == "margin"] for t in (under, at)]
    for given, drawn in zip(*margins, strict=True):
        assert given.nominal == pytest.approx(drawn.nominal, rel=1e-6)
        assert given.deviation < 1e-12
        assert drawn.deviation > 1e-3
    assert [s.quantity for s in under.spreads].count("length") == 1
    assert [s.quantity for s in at.spreads].count("length") == 0


def test_below_the_initial_tension_the_length_says_nothing() -> None:
    found = _answer({"service": {"loads": [5, 30]}}, QUICK)
    assert [s.number for s in found.spreads if s.quantity == "load"] == [2]
    assert _codes(found) == {"below-initial-tension"}


def test_without_loads_the_rate_is_judged() -> None:
    found = _answer({"service": {}}, {**QUICK, "coils": 1, "free_length": 0})
    worst = found.spreads[found.worst]
    assert worst.quantity == "rate"
    assert worst.limits_known == "common practice"
    assert worst.nominal == pytest.approx(asked(Spring.from_dict(SPRING)).rates.small_load)
    # k goes with 1/N_a: a normal distribution of coils, cut at 3 deviations
    N = float(asked(Spring.from_dict(SPRING)).active_coils)
    assert worst.deviation / worst.nominal == pytest.approx(0.986 / 3 / N, rel=0.02)
    assert "no-loads" in _codes(found)


def test_springs_that_cannot_be_are_counted_and_outside(book: Handbook) -> None:
    wide = tuple(
        x.model_copy(update={"low": -3 * x.nominal, "high": 3 * x.nominal})
        for x in inputs(book, Tolerances())
        if x.name == "coils"
    )
    every, answers = uncorrected(book, wide, distribution="uniform")
    drawn = every.drawn(FEW, answers)
    # -10 to 20 coils: a third is below none, and (N + 1) d finds no room in 19.2 mm beyond 15
    assert float((~drawn.possible).mean()) == pytest.approx(1 / 3 + 1 / 6, abs=2e-3)
    assert all(np.isfinite(drawn.values[a][drawn.possible]).all() for a in answers)
    assert drawn.inside({}) == float(drawn.possible.mean())


def test_absurd_tolerances_are_answered_with_a_warning() -> None:
    found = _answer({}, {**QUICK, "free_length": "40 mm", "share": "99.9 %"})
    assert found.impossible > 0
    assert "springs-impossible" in _codes(found)
    assert found.inside < 0.2
    assert found.together is not None
    assert found.together < 0.1


def test_too_hot_is_refused_as_everywhere() -> None:
    hot = Spring.from_dict({**SPRING, "service": {"loads": [15], "temperature": 400}})
    with pytest.raises(SpecError) as caught:
        hot.tolerance(springs=1 << 10)
    with pytest.raises(SpecError) as summary:
        hot.summary()
    assert caught.value.findings == summary.value.findings


def test_a_refusal_of_the_wire_is_not_one_of_the_lengths() -> None:
    spring = Spring.from_dict(
        {
            **SPRING,
            "wire": {"material": "en-10270-2-tdsicr", "diameter": 1.2},
            "service": {"lengths": [22]},
        }
    )
    with pytest.raises(SpecError) as caught:
        spring.tolerance(springs=1 << 10)
    assert caught.value.findings[0].field != "service.lengths"


def test_which_points_are_given_by_length() -> None:
    spring = Spring.from_dict({**SPRING, "service": {"loads": [20], "lengths": [30]}})
    points = asked_points(Handbook(spring.model))
    assert [(p.number, p.by_length, p.judged) for p in points] == [
        (n, p.length == 30, True) for n, p in enumerate(points, 1)
    ]
    assert [p.load for p in points] == sorted(p.load for p in points)


def test_what_is_left_free_is_adjusted() -> None:
    free = {"making": {"free": ["winding", "initial-tension"]}, "service": {"loads": [15, 30]}}
    tolerances = {**QUICK, "shear_modulus": "2 %", "free_length": 0}
    found, kept = _answer(dict(free), tolerances), _answer({}, tolerances)
    assert (found.adjusts, kept.adjusts) == ("initial-tension", "none")
    high = [next(s for s in t.spreads if s.number == 2) for t in (found, kept)]
    assert high[0].deviation < 1e-3 < high[1].deviation
    book = Handbook(Spring.from_dict({**SPRING, **free}).model)
    assert free_of(book, asked_points(book)) == "initial-tension"
    assert free_of(book, ()) == "none"


@pytest.mark.slow
@pytest.mark.parametrize(
    "ends",
    [
        ("full-loop-at-side", "full-loop-at-side"),
        ("threaded-plug", "coned-swivel-eye"),
        ("reduced-half-loop", "english-loop"),
        ("plain", "v-hook"),
    ],
)
def test_every_kind_of_end(ends: tuple[str, str]) -> None:
    changes = {"ends": {"first": ends[0], "second": ends[1]}, "body": {"coils": 10}}
    found = _answer(changes, {})
    for s in found.spreads:
        assert np.isfinite([s.mean, s.deviation, s.low, s.high]).all()
        assert s.off_percent < (2.0 if s.quantity == "margin" else 1.0)
    assert 0.5 < found.inside <= 1
