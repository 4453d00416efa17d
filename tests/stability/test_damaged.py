"""A short part of the run of damaged files; the whole: ``python -m tests.stability.damaged``."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.gate import thinned

from .damaged import case, originals

COUNT = 40


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, bytes]]:
    """Return the sound files, made once."""
    return originals(tmp_path_factory.mktemp("sound"))


@pytest.mark.parametrize("number", thinned(8, range(COUNT)))
def test_a_damaged_file_is_read_or_refused(
    number: int, files: list[dict[str, bytes]], tmp_path: Path
) -> None:
    answer, tags = case(number, files, tmp_path)
    assert not tags, answer
