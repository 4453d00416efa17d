from __future__ import annotations

from typing import Any

import pytest

from springgeo import Spring
from springgeo.fit import Around, Bore, EndMate, Mating, Plate, Rod, Stud

SPEC: dict[str, Any] = {
    "name": "bracket return",
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 4},
    "ends": {
        "first": {"style": "full-twisted-loop"},
        "second": {"style": "machine-half-loop"},
        "angle": 90,
    },
}


@pytest.fixture(scope="session")
def short() -> Spring:
    return Spring.from_dict(SPEC)


@pytest.fixture(scope="session")
def everything() -> Mating:
    return Mating(
        first=EndMate(stud=Stud(diameter=9, groove_diameter=6, groove_width=2, length=9)),
        second=EndMate(plate=Plate(hole_diameter=3, thickness=2, edge_distance=4)),
        around=Around(bore=Bore(diameter=13), rod=Rod(diameter=6)),
    )
