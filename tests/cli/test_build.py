"""One real build through the command line: three files, complete, and nothing else."""

from __future__ import annotations

import json
from pathlib import Path

from .conftest import GOOD, Command

FILES = ["test-spring.json", "test-spring.step", "test-spring.stl"]
SHORT = GOOD.replace("coils: 18.5", "coils: 3")


def test_build_writes_three_files(springgeo: Command, spec_file: Path, tmp_path: Path) -> None:
    spec_file.write_text(SHORT, encoding="utf-8")
    out = tmp_path / "deep" / "out"
    result = springgeo("build", spec_file, "-o", out, "--json")
    assert (result.code, result.err) == (0, "")
    assert sorted(p.name for p in out.iterdir()) == FILES
    printed = json.loads(result.out)
    assert json.loads((out / FILES[0]).read_text(encoding="ascii")) == printed
    assert all(c["ok"] for c in printed["checks"])
    names = {c["name"] for c in printed["checks"]}
    assert names >= {"free-length", "solid-volume", "solid-valid", "tube", "tangent-jump"}
    checked = json.loads(springgeo("check", spec_file, "--json").out)
    assert checked["geometry"] == printed["geometry"]
    assert checked["points"] == printed["points"]
    solid = printed["free_length"]["solid"]
    assert abs(solid - printed["geometry"]["free_length"]) <= 1e-5 * 1.2

    # again: replaced by default, refused on demand, the same to the byte where no time is written
    before = {n: (out / n).read_bytes() for n in FILES}
    assert springgeo("build", spec_file, "-o", out, "--no-overwrite").code == 2
    assert springgeo("build", spec_file, "-o", out).code == 0
    assert sorted(p.name for p in out.iterdir()) == FILES
    for name in ("test-spring.json", "test-spring.stl"):
        assert (out / name).read_bytes() == before[name]
