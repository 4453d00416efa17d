from __future__ import annotations

import textwrap
from pathlib import Path

import pytest

# an end style from elsewhere that takes its process down, in the way the variable HOW names
DIES = """
    import os, signal
    from dataclasses import replace
    from springgeo.ends.over_centre.machine_half_loop import END as MODEL

    def shape(parameters, body_end):
        how = os.environ.get("HOW", "exit")
        if how == "memory":
            raise MemoryError
        if how == "kill":
            os.kill(os.getpid(), signal.SIGKILL)
        if how == "noise":
            os.write(1, b"a library says something\\n")
            print("and so does Python", flush=True)
            return MODEL.shape(parameters, body_end)
        os._exit(7)

    END = replace(MODEL, name="dies", shape=shape)
"""
ROWS = """\
name,wire.diameter,body.mean_diameter,body.coils,ends.first.style,ends.second.style
first,1.0 mm,8,20,machine-half-loop,machine-half-loop
crash,1.0 mm,8,20,dies,machine-half-loop
third,1.2 mm,8,20,machine-half-loop,machine-half-loop
refused,1.2 mm,80,20,machine-half-loop,machine-half-loop
fifth,1.1 mm,8,20,machine-half-loop,machine-half-loop
"""


@pytest.fixture
def plug_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with the end style, for child processes alone to find."""
    place = tmp_path / "plug-in"
    info = place / "dies-1.0.dist-info"
    info.mkdir(parents=True)
    (place / "dies.py").write_text(textwrap.dedent(DIES))
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: dies\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text("[springgeo.ends]\ndies = dies:END\n")
    monkeypatch.syspath_prepend(str(place))
    monkeypatch.setenv("PYTHONPATH", str(place))
    return place


@pytest.fixture
def deadly(tmp_path: Path, plug_in: Path) -> Path:
    """Return a table with one member that crashes and one that is refused."""
    path = tmp_path / "deadly.csv"
    path.write_text(ROWS)
    return path
