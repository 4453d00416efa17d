"""Every script of the bench starts, and what it measures can still be asked: tiny cases of it."""

from __future__ import annotations

import copy
import importlib
import os
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

BENCH = Path(__file__).parent / "bench"
SCRIPTS = sorted(p.stem for p in BENCH.glob("*.py"))

# what makes a whole run of a script small
SMALL: dict[str, dict[str, Any]] = {
    "bench_check": {"ROUNDS": 1, "COMMANDS": {"nothing": ("-c", "pass")}},
    "bench_fit": {"COILS": 3, "STATES": 3, "PINS": 1, "REPEAT": 1, "STYLES": ("english-loop",)},
    "bench_mesh": {"COILS": 1.0},
    "bench_solid": {"COILS": 1},
    "bench_statics": {"ROUNDS": 1, "TURNS": 3},
    "bench_sweep": {"COILS": [10.0]},
}
SLOW: dict[str, dict[str, Any]] = {"bench_tolerance": {"SPRINGS": 1 << 10, "LOOP": 1}}


def desk(module: ModuleType) -> None:
    assert module.processor(module.descendants("no such program") or [os.getpid()]) > 0


def drawing(module: ModuleType) -> None:
    spec = copy.deepcopy(module.SPEC)
    spec["body"]["coils"] = 3
    spring = module.Spring.from_dict(spec)
    for sight in module.sights("first"):
        module.silhouette(spring.centreline, 1.2, sight)
    assert module.drawing_files(spring.model, spring.summary(), "svg")[0]


def equilibrium(module: ModuleType) -> None:
    curve = module.curve_of(module.spring("full-twisted-loop", coils=3.0))
    assert module.best(lambda: module.sweep(curve, 3)) > 0


def sizing(module: ModuleType) -> None:
    job = module.job_of(module.JOB | {"choice": {"ends": module.ENDS[:1]}})
    found = module.search(job)
    count, least = module.by_loop(job, found.wires.part(module._some_wires(found)))
    assert found.looked_at > count > 0
    assert least > 0


def thousand(module: ModuleType) -> None:
    rows = module.rows(50)
    assert len({tuple(row.items()) for row in rows}) == 50
    assert module.resident(os.getppid())


PARTS: dict[str, Callable[[ModuleType], None]] = {
    "bench_desk": desk,
    "bench_drawing": drawing,
    "bench_equilibrium": equilibrium,
    "bench_sizing": sizing,
    "thousand_springs": thousand,
}


def test_every_script_is_asked_something() -> None:
    assert sorted([*SMALL, *SLOW, *PARTS]) == SCRIPTS


@pytest.mark.parametrize(
    "name", [*SMALL, *(pytest.param(name, marks=pytest.mark.slow) for name in SLOW)]
)
def test_runs_small(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    module = importlib.import_module(f"tests.bench.{name}")
    for key, value in (SMALL | SLOW)[name].items():
        assert hasattr(module, key)
        monkeypatch.setattr(module, key, value)
    module.main()


@pytest.mark.parametrize("name", PARTS)
def test_starts(name: str) -> None:
    module = importlib.import_module(f"tests.bench.{name}")
    assert callable(module.main)
    PARTS[name](module)
