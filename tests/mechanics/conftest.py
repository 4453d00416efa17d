"""The published examples as a fixture: ``example("id")`` gives one of them."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

FILE = Path(__file__).parents[1] / "published" / "worked_examples.json"


@dataclass(frozen=True)
class Example:
    """One example; ``check`` compares a result in SI with every printed form of it."""

    inputs: dict[str, Any]
    published: dict[str, Any]
    recomputed: dict[str, Any]
    rel_tol: float
    checked: set[str] = field(default_factory=set)

    def check(self, name: str, value: Any, unit: float = 1.0) -> None:
        """Compare a value in SI with the figures of that name, printed in a unit."""
        found = 0
        for figures, tol in ((self.published, self.rel_tol), (self.recomputed, 2e-4)):
            if name in figures:
                found += 1
                assert float(value) / unit == pytest.approx(figures[name], rel=tol), name
        assert found, f"no figure named {name}"
        self.checked.add(name)

    def all_checked(self, *apart: str) -> None:
        """Assert that no printed figure was forgotten, but those checked in another way."""
        left = (set(self.published) | set(self.recomputed)) - self.checked - set(apart)
        assert not left


@pytest.fixture(scope="session")
def example_ids() -> set[str]:
    return {e["id"] for e in json.loads(FILE.read_text(encoding="utf-8"))["examples"]}


@pytest.fixture
def example() -> Callable[[str], Example]:
    data = {e["id"]: e for e in json.loads(FILE.read_text(encoding="utf-8"))["examples"]}

    def load(name: str) -> Example:
        e = data[name]
        return Example(e["inputs"], e["published"], e["recomputed"], e["rel_tol"])

    return load
