"""What wire answers with is found once, whatever forces act on it, and is the same."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from springgeo.curve.frame import Array
from springgeo.statics import surface
from springgeo.statics.around import greatest
from springgeo.statics.forces import resolve
from springgeo.statics.stress import Bent
from tests.springs import kept


def test_many_forces_ask_the_law_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """It was asked anew for every load of a summary."""
    g = kept("gate-latch").model.geometry
    bent = Bent.of(g.path.sample(g.wire_diameter / 4), g.wire_diameter, 0.3)
    asked: list[int] = []
    terms = surface._terms

    def counted(both: Any, law: Any) -> Any:
        asked.append(1)
        return terms(both, law)

    monkeypatch.setattr(surface, "_terms", counted)
    pulls = [1.0, 7.0, 20.0]
    found = [bent.under(*acting(pull)) for pull in pulls]
    assert len(asked) == 1
    for pull, told in zip(pulls, found, strict=True):
        here = resolve(*acting(pull), bent.frame)
        alone = greatest(surface.surface(here, bent.felt, g.wire_diameter, 0.3))
        for mine, other in zip(vars(told.stress).values(), vars(alone).values(), strict=True):
            assert np.array_equal(mine, other)
    assert len(asked) == 1 + len(pulls)


def acting(pull: float) -> tuple[Array, Array]:
    """Return force, N, and moment, N mm."""
    return np.array([0.0, 0.0, pull]), np.array([0.3, -0.2, pull])
