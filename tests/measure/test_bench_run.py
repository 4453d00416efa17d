from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import yaml
from scipy.stats import binned_statistic

from springgeo.api import Spring
from springgeo.cli.main import run
from springgeo.errors import FileError
from springgeo.measure import measure, read_readings
from springgeo.measure.bench import read_bench
from tests.springs import asked

from .test_measure import TRUTH, bench

S = asked(TRUTH)
FREE, RATE, TENSION = TRUTH.free_length, S.along_the_wire.rate, S.initial_tension.force


def readings(tmp_path: Path) -> Path:
    data = {k: v for k, v in bench().items() if k != "pulls"}
    path = tmp_path / "readings.yaml"
    path.write_text(yaml.safe_dump(data))
    return path


def pulled(rows: int = 400) -> tuple[np.ndarray, np.ndarray]:
    """There and back over the free length, with fixed errors."""
    rng = np.random.default_rng(5)
    turn = np.concatenate([np.linspace(-1, 18, rows // 2), np.linspace(18, -1, rows - rows // 2)])
    load = np.where(turn > 0, TENSION + RATE * turn, TENSION * np.clip(1 + turn, 0, 1))
    return turn + rng.normal(0, 0.05, rows), load + rng.normal(0, 0.05, rows)


X, Y = pulled()
KINDS = {
    "plain": "length,load\n" + "\n".join(f"{FREE + x},{y}" for x, y in zip(X, Y, strict=True)),
    "units, mark, windows": "\ufefftime,Load [lbf],Length (in)\r\n"
    + "\r\n".join(
        f"{i},{y / 4.4482216152605},{(FREE + x) / 25.4}"
        for i, (x, y) in enumerate(zip(X, Y, strict=True))
    ),
    "semicolons, decimal commas, rig's own lines": "Rig 7;;\nserial;12,5;\n\n"
    "t;Extension, mm;Force / N\n"
    + "\n".join(
        f"{i};{x:.6f};{y:.6f}".replace(".", ",") for i, (x, y) in enumerate(zip(X, Y, strict=True))
    )
    + "\nend;;\n",
    "holes": "length\tload\n"
    + "\n".join(
        f"{FREE + x}\t{y if i % 5 else 'NaN'}" for i, (x, y) in enumerate(zip(X, Y, strict=True))
    )
    + "\n-\t-\n\n1\n",
}


@pytest.mark.parametrize("kind", KINDS)
def test_what_rigs_write(kind: str, tmp_path: Path) -> None:
    (tmp_path / "run.csv").write_text(KINDS[kind], encoding="utf-8", newline="")
    found = measure(read_readings(readings(tmp_path), tmp_path / "run.csv"))
    assert found.line.rate.low <= RATE <= found.line.rate.high
    assert found.line.tension.low <= TENSION <= found.line.tension.high
    assert found.line.rate.u < 0.01 * RATE
    assert "astm-a228" in [x.material for x in found.likely]


def test_holes_are_counted(tmp_path: Path) -> None:
    (tmp_path / "run.csv").write_text(KINDS["holes"])
    got = read_bench(tmp_path / "run.csv")
    assert got.rows == 320
    assert got.left_out == 80 + 2  # the NaNs, a row of dashes, a row cut short


def test_a_million_rows_become_the_means_of_slices(tmp_path: Path) -> None:
    rng = np.random.default_rng(1)
    x = rng.uniform(0, 20, 1_000_000)
    y = 7 + 1.3 * x + rng.normal(0, 0.5, x.size)
    np.savetxt(
        tmp_path / "run.csv",
        np.stack([x, y], axis=-1),
        fmt="%.5f",
        delimiter=",",
        header="length,load",
        comments="",
    )
    got = read_bench(tmp_path / "run.csv")
    assert got.rows == 1_000_000
    means, edges, _ = binned_statistic(x, y, bins=len(got.load))
    assert len(means) == 100
    assert got.load == pytest.approx(means, abs=1e-3)
    assert np.all((edges[:-1] <= got.length + 1e-4) & (got.length <= edges[1:] + 1e-4))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no head names two columns"),
        ("1,2\n3,4\n", "no head names two columns"),
        ("length,load\n", "no readings"),
        ("length,load\nNaN,NaN\n,\n", "no readings"),
        ("length (furlong),load\n1,2\n", "'furlong'"),
        ("length,load [psi]\n1,2\n", "'psi'"),
        ("length,load\n50,20\n", "3 readings of load"),
    ],
)
def test_refusals_are_one_line(
    text: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "run.csv").write_text(text)
    command = ["measure", str(readings(tmp_path)), "--bench", str(tmp_path / "run.csv")]
    assert run(command) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert words in line


def test_not_text_and_missing(tmp_path: Path) -> None:
    (tmp_path / "run.csv").write_bytes("Länge;Kraft\n1;2".encode("latin-1"))
    with pytest.raises(FileError, match="UTF-8"):
        read_bench(tmp_path / "run.csv")
    with pytest.raises(FileError, match="No such file"):
        read_bench(tmp_path / "none.csv")


def test_a_run_in_place_of_readings_is_told_where_it_belongs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "run.csv").write_text(KINDS["plain"])
    assert run(["measure", str(tmp_path / "run.csv")]) == 2
    assert "--bench" in capsys.readouterr().err


def test_named_in_the_readings_and_rebuilt(tmp_path: Path) -> None:
    path = readings(tmp_path)
    path.write_text(path.read_text() + "bench: run.csv\n")
    (tmp_path / "run.csv").write_text(KINDS["plain"])
    assert run(["measure", str(path), "-o", str(tmp_path / "spec.yaml")]) == 0
    spring = Spring.from_file(tmp_path / "spec.yaml")
    assert spring.summary().along_the_wire.rate == pytest.approx(RATE, rel=0.02)


def test_decimal_commas_in_the_readings(tmp_path: Path) -> None:
    (tmp_path / "k.csv").write_text(
        "\ufeffwire_diameter;1,2;1,21\nouter_diameter;10,8\ncoils;18,5\nfree_length;45,5 mm\n"
        "pull;47;9,1\npull;50;13\npull;55;19,9\n",
        encoding="utf-8",
    )
    r = read_readings(tmp_path / "k.csv")
    assert r.wire_diameter == (1.2, 1.21)
    assert r.free_length == (45.5,)
    assert r.pulls[0].load == 9.1
