"""A specification that is fine, to be spoilt in one place by each test."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest

from springgeo.errors import SpecError
from springgeo.findings import Finding
from springgeo.specification.load import spec_of

GOOD: dict[str, Any] = {
    "name": "test spring",
    "wire": {"material": "astm-a228", "diameter": "1.2 mm"},
    "body": {"mean_diameter": "9.6 mm", "coils": 18.5},
    "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": ["15 N", "30 N"]},
}


@pytest.fixture
def good() -> dict[str, Any]:
    """Return a specification as a file would hold it; change it at will."""
    return copy.deepcopy(GOOD)


@pytest.fixture
def refusal() -> Callable[[dict[str, Any]], Finding]:
    """Return a function that gives the one finding a bad specification is refused with."""

    def one(data: dict[str, Any]) -> Finding:
        with pytest.raises(SpecError) as caught:
            spec_of(data)
        (finding,) = caught.value.findings
        assert finding.severity == "error"
        return finding

    return one
