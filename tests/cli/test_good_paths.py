"""What people do on a good day: new, check, ends, schema, --strict, help."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from springgeo import __version__
from springgeo.ends import registry
from springgeo.specification.load import presets

from .conftest import GOOD, Command

pytestmark = pytest.mark.usefixtures("presets_kept", "files_kept")


def test_new_then_check(springgeo: Command, tmp_path: Path) -> None:
    file = tmp_path / "spring.yaml"
    assert springgeo("new", file).code == 0
    result = springgeo("check", file, "--strict")
    assert result.code == 0, result.out
    assert "my spring" in result.out
    assert result.err == ""


def test_new_takes_force(springgeo: Command, spec_file: Path) -> None:
    assert springgeo("new", spec_file, "--force").code == 0
    assert "my spring" in spec_file.read_text(encoding="utf-8")
    assert [p.name for p in spec_file.parent.iterdir()] == [spec_file.name]


@pytest.mark.parametrize("name", presets())
def test_presets_check(springgeo: Command, name: str) -> None:
    result = springgeo("check", "--preset", name)
    assert result.code == 0
    assert result.err == ""
    assert "error" not in result.out
    assert "checks: all" in result.out
    assert "Never make" in result.out or "Hooks break" in result.out  # the cautions are shown


def test_a_file_in_other_units_is_the_same_spring(springgeo: Command, spec_file: Path) -> None:
    first = springgeo("check", spec_file, "--json").out
    inches = GOOD.replace("1.2 mm", f"{1.2 / 25.4!r} in").replace("9.6 mm", "0.96 cm")
    spec_file.write_text(inches, encoding="utf-8")
    again = json.loads(springgeo("check", spec_file, "--json").out)
    want = json.loads(first)
    assert again["geometry"]["free_length"] == pytest.approx(want["geometry"]["free_length"])
    assert again["rate"] == pytest.approx(want["rate"], rel=1e-9)


def test_strict_fails_on_a_warning_and_on_nothing_less(springgeo: Command, spec_file: Path) -> None:
    assert springgeo("check", spec_file, "--strict").code == 0
    tight = GOOD.replace(
        "{style: full-twisted-loop}", "{style: full-twisted-loop, bend_radius: 1.2}"
    )
    spec_file.write_text(tight, encoding="utf-8")
    assert springgeo("check", spec_file).code == 0
    result = springgeo("check", spec_file, "--strict")
    assert result.code == 1
    assert "warning: ends.first.bend_radius: 1.2 mm is 1 wire diameters" in result.out
    assert result.err == ""


def test_ends_lists_every_style_with_its_parameters(springgeo: Command) -> None:
    result = springgeo("ends")
    assert result.code == 0
    for style in registry.styles().values():
        assert f"{style.name}: {style.title}" in result.out
        for name in style.parameters.model_fields:
            assert name in result.out


def test_schema_is_json(springgeo: Command) -> None:
    result = springgeo("schema")
    assert result.code == 0
    assert json.loads(result.out)["title"] == "springgeo specification"


@pytest.mark.parametrize("args", [[], ["-h"], ["--help"]])
def test_help_is_laid_out(springgeo: Command, args: list[str]) -> None:
    result = springgeo(*args)
    assert result.code == 0
    assert result.err == ""
    assert len(result.out.splitlines()) > 8
    for command in ("build", "check", "ends", "materials", "new", "schema"):
        assert f"\n  {command} " in result.out
    described = result.out.split("Commands:")[1]
    assert "..." not in described, "a command's first line is too long to show"


@pytest.mark.parametrize("command", ["build", "check", "ends", "materials", "new", "schema"])
def test_every_command_has_help(springgeo: Command, command: str) -> None:
    result = springgeo(command, "--help")
    assert result.code == 0
    assert result.out.startswith(f"Usage: springgeo {command}")


def test_version(springgeo: Command) -> None:
    assert __version__ in springgeo("--version").out


def test_one_angle_note_when_the_coils_move(springgeo: Command, spec_file: Path) -> None:
    spec_file.write_text(GOOD.replace("service:", "  angle: 90 deg\nservice:"), encoding="utf-8")
    s = json.loads(springgeo("check", spec_file, "--json").out)
    assert s["geometry"]["loop_angle"] == pytest.approx(90.0)
    assert [f["code"] for f in s["findings"]].count("coils-follow-angle") == 1
    assert abs(s["geometry"]["body_coils"] - 18.5) <= 0.25
