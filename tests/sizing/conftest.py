from __future__ import annotations

import pytest

from springgeo.sizing import Found, Job, job_of
from springgeo.sizing.search.search import search

POINTS = [{"length": 60, "load": 15}, {"length": 75, "load": 30}]


@pytest.fixture(scope="session")
def hatch() -> Job:
    return job_of(
        {
            "points": POINTS,
            "envelope": {"outer_diameter": 14},
            "choice": {
                "series": ["en-iso"],
                "materials": ["astm-a228", "astm-a313-302"],
                "ends": ["full-twisted-loop", "machine-half-loop", "raised-hook"],
            },
        }
    )


@pytest.fixture(scope="session")
def found(hatch: Job) -> Found:
    return search(hatch)
