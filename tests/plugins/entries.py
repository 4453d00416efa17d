"""Entry points that a test makes up, in place of those installed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import pytest

from springgeo import plugins


@dataclass(frozen=True)
class Entry:
    """An entry point as ``importlib.metadata`` gives it; ``calls``: what it names is called."""

    name: str
    value: str
    found: Any
    calls: list[bool] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def load(self) -> Any:
        """Return what it names, or raise what its import raises."""
        self.asked.append(self.name)
        if isinstance(self.found, BaseException):
            raise self.found
        return self.found() if self.calls else self.found


class _Chosen(list[Any]):
    def select(self, group: str) -> list[Any]:
        """Return all: they are of one group."""
        return list(self) if group else []


@dataclass
class _Package:
    entry_points: _Chosen


def installed(monkeypatch: pytest.MonkeyPatch, own: list[Entry], all_of_them: list[Entry]) -> None:
    """Make these the entry points of this package, and of all packages."""
    monkeypatch.setattr(plugins, "distribution", lambda _name: _Package(_Chosen(own)))
    monkeypatch.setattr(plugins, "entry_points", lambda group: all_of_them if group else [])


def unasked() -> dict[str, Any]:
    """Return what a registry has loaded before it was first asked: nothing."""
    return {"_loaded": {}, "_problems": {}, "_registered": set()}
