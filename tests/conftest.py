"""What every test folder shares: hypothesis runs the same cases on every machine."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "project", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("project")


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
def forgotten() -> Iterator[None]:
    """Forget what end styles a test registers."""
    from springgeo.ends import registry

    kept = dict(registry._known._loaded), set(registry._known._registered)
    yield
    registry._known._loaded, registry._known._registered = kept
