"""A short spring and how it comes out, made once."""

from __future__ import annotations

import pytest

from springgeo.api import Spring
from springgeo.results.tolerance import Tolerance
from springgeo.summary.handbook import Handbook
from tests.tolerance.closed import SPRING


@pytest.fixture(scope="session")
def spring() -> Spring:
    return Spring.from_dict(SPRING)


@pytest.fixture(scope="session")
def book(spring: Spring) -> Handbook:
    return Handbook(spring.model)


@pytest.fixture(scope="session")
def found(spring: Spring) -> Tolerance:
    """The answer by the trade's tables, of a few springs."""
    return spring.tolerance({"share": "95 %"}, springs=1 << 14)
