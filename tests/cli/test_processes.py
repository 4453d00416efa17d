"""Fresh interpreters: exit codes as a shell sees them, and what is loaded for what."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from .conftest import GOOD

HEAVY = {"OCP", "cadquery", "vtk", "vtkmodules", "matplotlib", "trimesh", "casadi"}
LOADED = "import sys; print(*sorted({m.split('.')[0] for m in sys.modules}))"


def _python(code: str, cwd: Path) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=cwd, capture_output=True, text=True, check=True
    )
    return set(done.stdout.splitlines()[-1].split())


def _springgeo(*args: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "springgeo", *args],
        cwd=cwd,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


def test_import_is_light(tmp_path: Path) -> None:
    loaded = _python("import springgeo; springgeo.__version__; " + LOADED, tmp_path)
    assert not loaded & (HEAVY | {"scipy", "numpy", "pydantic", "yaml", "click"})


def test_check_loads_no_kernel(tmp_path: Path) -> None:
    run = (
        "from springgeo.cli.main import run; assert run(['check', '--preset', 'gate-latch']) == 0; "
    )
    # the load line is the wire's equilibrium: its linear equations are solved by scipy's LAPACK
    assert not _python(run + LOADED, tmp_path) & HEAVY


def test_check_loads_only_the_ends_it_uses(tmp_path: Path) -> None:
    (tmp_path / "good.yaml").write_text(GOOD)
    run = "from springgeo.cli.main import run; assert run(['check', 'good.yaml']) == 0; "
    names = "import sys; print(*(m for m in sys.modules if m.startswith('springgeo.ends.')))"
    wings = ("over_centre", "at_side", "reduced_coils", "fitted")
    loaded = [m for m in _python(run + names, tmp_path) if m.split(".")[2] in wings]
    styles = {m.split(".")[3] for m in loaded if m.count(".") == 3}
    assert "full_twisted_loop" in styles
    assert not styles & {"v_hook", "english_loop", "full_loop_at_side", "coned_swivel_eye"}
    assert len(styles) <= 3


def test_numpys_masked_arrays_stay_away_from_a_spring(tmp_path: Path) -> None:
    # scipy brings them as soon as a load line is asked for
    run = "import springgeo; springgeo.Spring.from_preset('gate-latch').free_length"
    names = "import sys; print(*(m for m in sys.modules if m.startswith('numpy.')))"
    assert "numpy.ma" not in _python(f"{run}; {names}", tmp_path)


def test_a_refused_build_loads_no_kernel(tmp_path: Path) -> None:
    (tmp_path / "bad.yaml").write_text(GOOD.replace("coils: 18.5", "coils: -1"))
    run = "from springgeo.cli.main import run; assert run(['build', 'bad.yaml']) == 2; "
    assert not _python(run + LOADED, tmp_path) & HEAVY
    assert sorted(p.name for p in tmp_path.iterdir()) == ["bad.yaml"]


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["check", "none.yaml"], "cannot read 'none.yaml'"),
        (["build", "bad.yaml"], "body.coils"),
        (["biuld"], "'biuld' is not a command; did you mean 'build'?"),
        (["check", "--preset", "gate-lach"], "gate-latch"),
    ],
    ids=lambda v: " ".join(v),
)
def test_bad_input_leaves_with_two(tmp_path: Path, args: list[str], words: str) -> None:
    (tmp_path / "bad.yaml").write_text(GOOD.replace("coils: 18.5", "coils: -1"))
    done = _springgeo(*args, cwd=tmp_path)
    assert done.returncode == 2
    assert words in done.stderr
    assert all(line.startswith("springgeo: ") for line in done.stderr.splitlines())
    assert done.stdout == ""
    assert sorted(p.name for p in tmp_path.iterdir()) == ["bad.yaml"]


def test_strict_leaves_with_one(tmp_path: Path) -> None:
    tight = GOOD.replace("full-twisted-loop", "full-twisted-loop, bend_radius: 1.2 mm")
    (tmp_path / "tight.yaml").write_text(tight)
    assert _springgeo("check", "tight.yaml", "--strict", cwd=tmp_path).returncode == 1
    assert _springgeo("check", "tight.yaml", cwd=tmp_path).returncode == 0


@pytest.mark.skipif(sys.platform == "win32", reason="needs a shell with pipes")
def test_a_reader_that_goes_away_is_no_error(tmp_path: Path) -> None:
    done = subprocess.run(
        f"'{sys.executable}' -m springgeo schema | head -n 1; echo ${{PIPESTATUS[0]}}",
        shell=True,
        executable="/bin/bash",
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.splitlines()[0] == "{"
    assert done.stdout.splitlines()[1] == "0"
    assert done.stderr == ""
