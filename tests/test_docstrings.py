"""Every example in a docstring is run."""

from __future__ import annotations

import doctest
from importlib import import_module
from pathlib import Path

import pytest

import springgeo

ROOT = Path(springgeo.__file__).parent
NAMES = sorted(
    ".".join(("springgeo", *file.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__")
    for file in ROOT.rglob("*.py")
    if ">>> " in file.read_text(encoding="utf-8")
)


def test_there_are_examples() -> None:
    assert len(NAMES) >= 10


@pytest.mark.parametrize("name", NAMES)
def test_examples_hold(name: str) -> None:
    assert doctest.testmod(import_module(name)).failed == 0
