"""The picture of the fit: what is drawn are the report's own numbers."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.errors import FileError, SpringgeoError
from springgeo.fit import FitReport, fit, plot_fit, write_plot

from .conftest import specification

pytest.importorskip("matplotlib")
MATING: dict[str, Any] = {
    "first": {"pin": {"diameter": 7, "length": 20}},
    "second": {"pin": {"diameter": 3, "length": 20}},
    "around": {"bore": {"diameter": 12}, "rod": {"diameter": 8}},
    "over_travel": 30,
}


@pytest.fixture(scope="module")
def report() -> FitReport:
    return fit(Spring.from_dict(specification(mating=MATING)), states=5)


def test_lines_are_the_clearances(report: FitReport) -> None:
    (axes,) = plot_fit(report).axes
    drawn = {line.get_label(): line for line in axes.get_lines()}
    wanted = {
        "pin, first end, to the body": [
            s.first.neighbour.distance for s in report.states if s.first
        ],
        "pin, second end, to the body": [
            s.second.neighbour.distance for s in report.states if s.second
        ],
        "spring in its bore": [s.bore.distance for s in report.states if s.bore],
        "spring over its rod": [s.rod.distance for s in report.states if s.rod],
    }
    for name, gaps in wanted.items():
        assert drawn[name].get_ydata().tolist() == gaps
        assert drawn[name].get_xdata().tolist() == [s.length for s in report.states]
    low, high = axes.get_ylim()
    assert low < min(0.0, *map(min, wanted.values()))
    assert high > max(map(max, wanted.values()))


def test_stops_and_the_unsafe_stretch_are_marked(report: FitReport) -> None:
    words = {text.get_text() for text in plot_fit(report).axes[0].texts}
    assert {"free", "installed", "max", "over-travel", "parts overlap"} <= words
    assert report.safe_length is not None
    assert report.safe_length < report.states[-1].length
    assert "stress limit" in words
    calm = fit(Spring.from_dict(specification(mating={**MATING, "over_travel": 0})), states=3)
    assert "stress limit" not in {t.get_text() for t in plot_fit(calm).axes[0].texts}


@pytest.mark.parametrize("kind", ["png", "svg", "pdf"])
def test_files_are_the_same_every_time(report: FitReport, kind: str, tmp_path: Path) -> None:
    one, two = (
        write_plot(report, tmp_path / f"{n}.{kind}").read_bytes() for n in ("first", "second")
    )
    assert one == two
    assert len(one) > 3000
    assert len(list(tmp_path.iterdir())) == 2


def test_what_cannot_be_drawn(report: FitReport, tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"\.png, \.svg or \.pdf"):
        write_plot(report, tmp_path / "fit.jpg")
    with pytest.raises(FileError, match="no such file"):
        write_plot(report, tmp_path / "none" / "fit.png")
    with pytest.raises(SpringgeoError, match="nothing to plot"):
        plot_fit(report.model_copy(update={"states": ()}))
    assert not list(tmp_path.iterdir())


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, picture = tmp_path / "spring.yaml", tmp_path / "fit.png"
    file.write_text(yaml.safe_dump(specification(mating=MATING)), encoding="utf-8")
    assert run(["fit", str(file), "--states", "3", "--plot", str(picture)]) == 0
    assert picture.read_bytes().startswith(b"\x89PNG")
    assert "nearest: pin, first end, to the body -" in capsys.readouterr().out
    assert run(["fit", str(file), "--states", "3", "--plot", str(tmp_path / "x.txt")]) == 2
    assert "must end in .png, .svg or .pdf" in capsys.readouterr().err
