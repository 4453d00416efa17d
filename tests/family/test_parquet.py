from __future__ import annotations

import sys
from pathlib import Path

import pytest

from springgeo.cli.main import run
from springgeo.errors import FileError, SpecError
from springgeo.family import build_family, read_family


def write(path: Path, columns: dict[str, list[object]]) -> Path:
    pa = pytest.importorskip("pyarrow", reason="pyarrow is not installed")
    parquet = pytest.importorskip("pyarrow.parquet")
    parquet.write_table(pa.table(columns), path)
    return path


COLUMNS: dict[str, list[object]] = {
    "name": ["one", "two"],
    "wire.diameter": [1.0, 1.2],
    "wire.material": ["astm-a228", None],
    "body.mean_diameter": ["8 mm", "0.4 in"],
    "body.coils": [20, 18],
    "body.initial_tension": [float("nan"), 6.0],
    "ends.first.style": ["machine-half-loop", "machine-half-loop"],
    "ends.second.style": ["machine-half-loop", "raised-hook"],
    "service.loads": [[10.0, 20.0], None],
}


def test_rows_become_specifications(tmp_path: Path) -> None:
    one, two = read_family(write(tmp_path / "t.parquet", COLUMNS), whole=False)
    assert one.data["service"] == {"loads": [10.0, 20.0]}
    assert "initial_tension" not in one.data["body"]
    assert two.data["wire"] == {"diameter": 1.2}
    assert not build_family([one, two], tmp_path / "out").failures


@pytest.mark.parametrize(
    ("columns", "words"),
    [
        ({"name": ["x"]}, "first line"),
        ({"wire.diameter": []}, "no member"),
        ({"name": ["x", "x"], "wire.diameter": [1, 1]}, "different names"),
    ],
)
def test_refusals(columns: dict[str, list[object]], words: str, tmp_path: Path) -> None:
    with pytest.raises(SpecError, match=words):
        read_family(write(tmp_path / "t.parquet", columns))


def test_not_parquet(tmp_path: Path) -> None:
    pytest.importorskip("pyarrow", reason="pyarrow is not installed")
    (tmp_path / "t.parquet").write_bytes(b"PAR1 and then nothing")
    with pytest.raises(FileError, match=r"cannot read .*t\.parquet"):
        read_family(tmp_path / "t.parquet")


def test_without_pyarrow_the_command_that_brings_it_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow.parquet", None)
    (tmp_path / "t.parquet").write_bytes(b"")
    assert run(["family", str(tmp_path / "t.parquet"), "-o", str(tmp_path / "out")]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "pip install 'springgeo[parquet]'" in line
