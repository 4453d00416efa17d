"""Imports point down only."""

from __future__ import annotations

from .layers import violations


def test_imports_point_down() -> None:
    assert violations() == []
