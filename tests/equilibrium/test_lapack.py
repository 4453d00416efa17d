"""The banded solver by itself is scipy's, and a check loads nothing else of scipy.linalg."""

from __future__ import annotations

import subprocess
import sys
from typing import Literal

import pytest

from springgeo.equilibrium.linear import lapack
from springgeo.process import child_environment

PROBE = """
import sys
from springgeo.cli.main import run
run(["check", "--preset", "gate-latch"])
heavy = ("scipy.linalg.lapack", "numpy.f2py", "numpy.ma", "springgeo.fit.model")
heavy += ("springgeo.overload.spring", "springgeo.chart", "OCP", "cadquery", "vtkmodules")
print("loaded:", *[name for name in heavy if name in sys.modules])
"""


@pytest.mark.parametrize("name", ["dgbtrf", "dgbtrs", "dpbtrf", "dpbtrs"])
def test_it_is_the_function_of_scipy(
    name: Literal["dgbtrf", "dgbtrs", "dpbtrf", "dpbtrs"],
) -> None:
    """Whichever way it was found: scipy.linalg.lapack is the reference."""
    from scipy.linalg import lapack as whole

    assert lapack.banded(name) is getattr(whole, name)


def test_without_the_file_scipy_itself_is_asked(monkeypatch) -> None:
    monkeypatch.setattr(lapack, "_NAME", "_elsewhere")
    for kept in (lapack.banded, lapack._alone):
        kept.cache_clear()
    try:
        assert lapack.banded("dgbtrf").__name__
    finally:
        monkeypatch.undo()
        for kept in (lapack.banded, lapack._alone):
            kept.cache_clear()


def test_a_check_loads_what_it_needs() -> None:
    done = subprocess.run(
        [sys.executable, "-c", PROBE],
        capture_output=True,
        text=True,
        check=True,
        env=child_environment(),
    )
    assert done.stdout.splitlines()[-1].split() == ["loaded:"]
