"""Coils that an end winds beside the body's: handbook rate, mass and frequency know them."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo.mechanics import rate
from springgeo.summary.handbook import Handbook
from tests.gate import thinned
from tests.springs import asked

REDUCED = ("reduced-full-loop", "reduced-half-loop")


def spring(style: str, C: float = 8, turns: float = 8, **parameters: Any) -> sg.Spring:
    end = {"style": style, **parameters}
    return sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1.0},
            "body": {"index": C, "coils": turns, "initial_stress": 60},
            "ends": {"first": end, "second": end},
            "service": {"loads": [12]},
        }
    )


@pytest.mark.parametrize(
    ("style", "C", "wound", "coils"), thinned(3, REDUCED, [6, 8, 12], [2, 3, 6], [4, 15])
)
def test_handbook_rate_is_that_along_the_wire(
    style: str, C: float, wound: float, coils: float
) -> None:
    # along the wire: within 0.04 % of 3-D finite elements on thirteen springs (statics/test_fe)
    s = asked(spring(style, C, coils, coils=wound))
    assert s.rate == pytest.approx(s.along_the_wire.rate, rel=0.02)


@pytest.mark.parametrize("style", REDUCED)
@pytest.mark.parametrize("share", [0.62, 0.7, 0.85])
def test_a_coil_is_worth_the_cube_of_its_radius(style: str, share: float) -> None:
    """Machinery's Handbook 31st ed. p. 328: deflection per coil 8 F D³/(G d⁴), coil by coil."""
    made = spring(style, 9, coils=4, end_diameter=9 * share)
    shape = made.model.geometry.first
    coil = shape.pieces[0].segment
    point = coil.point(np.linspace(0.0, coil.length, 4001))
    turn = np.unwrap(np.arctan2(point[:, 1], point[:, 0])) / (2 * math.pi)
    radius = np.hypot(point[:, 0], point[:, 1])
    unit = 1 / np.array([float(rate.rate(79300.0, 2 * r, 1.0, 1.0)) for r in radius])
    summed = np.trapezoid(unit, turn) / (1 / float(rate.rate(79300.0, 9.0, 1.0, 1.0)))
    assert shape.active_coils == pytest.approx(summed, rel=2e-3)
    assert share**3 * 4 < shape.active_coils < 4
    assert shape.working_coils == 4


def test_hooks_on_narrow_coils_are_bent_by_their_own_arm() -> None:
    found = asked(spring("reduced-half-loop", 10))
    book, wire = found.points[0], found.along_the_wire.points[0]
    assert book.hook_bending == pytest.approx(wire.hook_bending, rel=0.03)
    assert book.hook_torsion == pytest.approx(wire.hook_torsion, rel=0.08)
    # coils count as coils: no torsion of a hook is looked for in them
    assert {p.label for p in found.along_the_wire.peaks if p.region == "B"} <= {
        "first.bend",
        "second.bend",
        "first.reduced-coils",
        "second.reduced-coils",
    }


def test_mass_frequency_and_all_coils_count_them() -> None:
    plain, reduced = spring("machine-half-loop"), spring("reduced-half-loop")
    book, other = Handbook(reduced.model), Handbook(plain.model)
    coil = reduced.model.geometry.first.active_wire
    area, D = math.pi / 4, 8.0
    # the wire of both ends' coils, less what hooks on coils of 0.7 D no longer count for
    hooks = (1 - 0.7**3) * book.material.shear_modulus / book.material.elastic_modulus
    more = area * 7.85e-6 * (2 * coil - math.pi * D * hooks)
    assert book.mass_active - other.mass_active == pytest.approx(more, rel=1e-6)
    assert book.natural_frequency == pytest.approx(
        0.5 * math.sqrt(1000 * book.rate / book.mass_active), rel=1e-12
    )
    assert asked(reduced).geometry.total_coils == pytest.approx(8 + 3 + 3)
    for convention in asked(reduced).rate_conventions.values():
        assert convention.active_coils > 8 + 2 * 1.5


def test_a_service_length_asks_for_the_load_that_holds_it() -> None:
    made = spring("reduced-full-loop", 8, 6)
    line = made.load_curve
    length = line.length(12.0)
    data = made.spec.model_dump(mode="json", exclude_none=True)
    data["service"] = {"lengths": [length]}
    assert asked(sg.Spring.from_dict(data)).points[0].load == pytest.approx(12.0, rel=0.01)
