"""What every test folder shares: hypothesis runs the same cases on every machine."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# before anybody loads numpy, here and in the processes that tests start: one thread each
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

settings.register_profile(
    "project", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("project")


# files with tests of more than some eight seconds: last, they would leave the other cores idle
LONG = (
    "test_readme.py",
    "recover/test_command.py",
    "equilibrium/test_mounted.py",
    "stability/test_kills.py",
    "overload/test_asked_sections.py",
    "tolerance/test_repeated.py",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the longest first; the others stay in their order."""
    here = Path(__file__).parent
    long = {here / name for name in LONG}
    items.sort(key=lambda item: item.path not in long)


def pytest_collection_finish() -> None:
    """Leave out of every garbage collection what stays: eight thousand tests, all modules.

    Three quarters of a million objects, half a second each time: a twelfth of the tests' time.
    """
    gc.collect()
    gc.freeze()


@pytest.fixture
def presets_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let commands that run in this process take presets that other tests may have asked before."""
    from springgeo import Spring
    from tests.springs import kept

    monkeypatch.setattr(Spring, "from_preset", staticmethod(kept))


@pytest.fixture
def files_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let commands that run in this process on the same text share what is computed of it."""
    from springgeo import Spring
    from tests.springs import kept_file

    monkeypatch.setattr(Spring, "from_file", staticmethod(kept_file))


@pytest.fixture
def forgotten() -> Iterator[None]:
    """Forget what end styles a test registers."""
    from springgeo.ends import registry

    kept = dict(registry._known._loaded), set(registry._known._registered)
    yield
    registry._known._loaded, registry._known._registered = kept
