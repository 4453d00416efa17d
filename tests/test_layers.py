"""Imports point down only."""

from __future__ import annotations

from .layers import circles, violations


def test_imports_point_down() -> None:
    assert violations() == []


def test_no_files_import_each_other() -> None:
    assert circles() == []
