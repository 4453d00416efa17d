"""The package as installed: what it carries, and what it says of the extras it lacks.

In the gate this runs a second time against the built wheel with core dependencies only.
"""

from __future__ import annotations

from importlib.metadata import entry_points, version
from importlib.util import find_spec
from pathlib import Path

import pytest

import springgeo as sg
from springgeo.cli.main import run
from springgeo.specification.load import presets


def test_version_is_stated_once() -> None:
    assert version("springgeo") == sg.__version__


def test_presets_and_types_come_along() -> None:
    assert len(presets()) >= 7
    assert (Path(sg.__file__).parent / "py.typed").is_file()


def test_every_entry_point_loads() -> None:
    found = [*entry_points(group="springgeo.ends"), *entry_points(group="springgeo.exporters")]
    assert len(found) >= 32
    assert all(entry.load() is not None for entry in found)


@pytest.mark.parametrize("name", sorted(presets()))
def test_presets_check(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", "--preset", name]) == 0
    assert "free length" in capsys.readouterr().out


@pytest.mark.skipif(find_spec("shapely") is not None, reason="the extra is installed")
def test_a_missing_extra_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["draw", "--preset", "gate-latch", "-o", str(tmp_path / "x.dxf")]) == 2
    assert "drawing" in capsys.readouterr().err


def test_a_spring_is_built(tmp_path: Path) -> None:
    files = sg.Spring.from_preset("gate-latch").export(tmp_path)
    assert {f.suffix for f in files} >= {".step", ".stl", ".json"}
