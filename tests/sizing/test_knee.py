"""From which load on the coils are apart: what the search takes, and what load curves say."""

from __future__ import annotations

from typing import Any

import pytest

from springgeo.api import Spring
from springgeo.equilibrium.contact.parting import last_parts_at
from springgeo.sizing import job_of, size
from springgeo.sizing.answer.corrected import PARTING
from springgeo.sizing.answer.knee import parting
from springgeo.sizing.answer.winner import winner
from springgeo.sizing.search.candidate import candidate
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.search import search
from tests.springs import made

# of what the load curve says; beside the axis, where it hangs on the tension as well
ON, BESIDE = 0.04, 0.12
PAIRS = (
    ("full-twisted-loop", "full-twisted-loop", ON),
    ("reduced-half-loop", "reduced-half-loop", ON),
    ("machine-half-loop", "reduced-half-loop", ON),
    ("hook-at-side", "hook-at-side", BESIDE),
)


@pytest.mark.parametrize(("first", "second", "within"), PAIRS)
def test_what_the_search_takes_is_what_load_curves_say(
    first: str, second: str, within: float
) -> None:
    a, b = parting(_spring(first, second, n + 0.25).model for n in PARTING)
    for coils, hand in ((6.25, "left"), (15.25, "right"), (40.25, "right")):
        curve = _spring(first, second, coils, hand, 110).load_curve
        at = last_parts_at(curve)
        assert at is not None
        assert a + b / coils == pytest.approx(at / curve.initial_tension, rel=within)


def _spring(
    first: str, second: str, coils: float, hand: str = "right", stress: float = 85
) -> Spring:
    return made(
        {
            "wire": {"material": "astm-a228", "diameter": 1.0},
            "body": {"mean_diameter": 8.0, "coils": coils, "initial_stress": stress, "hand": hand},
            "ends": {"first": {"style": first}, "second": {"style": second}},
        }
    )


@pytest.mark.parametrize(
    ("style", "d", "D", "coils", "stress", "loads"),
    [
        # parts late, for it has few coils: the search offered springs whose hooks would be loose
        ("double-twisted-full-loop", 0.8, 9.032, 10.4, 70.8, (2.552, 5.799)),
        # pulled beside the axis, and yet apart earlier than most
        ("hook-at-side", 2.5, 18.928, 28.79, 98.0, (70.42, 75.52)),
    ],
)
def test_what_a_spring_is_known_to_do_is_found(
    style: str, d: float, D: float, coils: float, stress: float, loads: tuple[float, float]
) -> None:
    known = {
        "wire": {"material": "en-10270-3-1.4310-ns", "diameter": d},
        "body": {"mean_diameter": D, "coils": coils, "initial_stress": stress},
        "ends": {"first": {"style": style}, "second": {"style": style}},
    }
    curve = made(known).load_curve
    job = {
        "points": [{"length": curve.length(x), "load": x} for x in loads],
        "envelope": {"outer_diameter": 1.02 * (D + d)},
        "choice": {"materials": ["en-10270-3-1.4310-ns"], "wire_sizes": [d], "ends": [style]},
        "objectives": ["envelope"],
    }
    assert size(job_of(job), 1).winners


def _few(index: tuple[float, float], bending: float) -> dict[str, Any]:
    """Four coils, apart just before the first load: more tension brings no spring to both loads."""
    return {
        "points": [
            {"length": 26.4619422270274, "load": 7.093323323117122},
            {"length": 27.682246036341596, "load": 12.119414610655237},
        ],
        "choice": {
            "materials": ["astm-a313-302"],
            "wire_sizes": [0.8],
            "ends": ["long-square-end-hook"],
            "index": list(index),
        },
        "objectives": ["cost"],
        "service": {"temperature": 250},
        "envelope": {"rod_diameter": 4.62},
        "least": {"body": 1.2, "hook_bending": bending, "hook_torsion": 1.2},
    }


def test_where_no_spring_comes_to_both_loads_the_nearest_is_built() -> None:
    """Step by step coils and tension grew, until the spring was longer than the first length."""
    job = job_of(_few((6.786, 6.7861), 1.0))
    found = search(job)
    made = winner(job, candidate(found, Place(0, 0, 0, 6.786)), 0.0, "nearest")
    assert made.loads == pytest.approx((7.0933, 12.1194), rel=5e-3)


def test_a_spring_that_does_not_come_to_its_loads_is_not_the_last_tried() -> None:
    """The best of them is 0.6 % off its first load; the one beside it is near enough."""
    assert size(job_of(_few((4, 16), 1.171)), 1).winners
