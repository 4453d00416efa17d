from __future__ import annotations

from typing import Any

import pytest

from springgeo import Spring


def specification(style: str = "machine-half-loop", **extra: Any) -> dict[str, Any]:
    return {
        "wire": {"material": "astm-a228", "diameter": 1.2},
        "body": {"mean_diameter": 9.6, "coils": 12, "hand": extra.pop("hand", "right")},
        "ends": {
            "first": {"style": style, **extra.pop("end", {})},
            "second": {"style": style},
            "angle": 90,
        },
        "service": {"loads": [15, 30]},
        **extra,
    }


@pytest.fixture(scope="session")
def half() -> Spring:
    return Spring.from_dict(specification())


@pytest.fixture(scope="session")
def full() -> Spring:
    return Spring.from_dict(specification("full-twisted-loop"))
