"""What a sheet says of a failing spring, of all its loads, and in its title block."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
import yaml

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.drawing import PAPERS, drawing_files, file_names, sheets
from tests.drawing.reader import rows_of

pytestmark = pytest.mark.usefixtures("presets_kept", "files_kept")

pytest.importorskip("matplotlib")
pytest.importorskip("shapely")
SPEC = {
    "name": "return spring",
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 20.3, "initial_tension": 7},
    "ends": {"first": "machine-half-loop", "second": "full-twisted-loop"},
    "service": {"loads": [12, 14, 16, 18, 20, 22, 24]},
    "drawing": {"number": "SG-204", "revision": "C", "company": "Millbrook Gauge Works"}
    | {"drawn": "shop 3", "checked": "bench 1", "date": "2026-03-04"},
    "making": {
        "finish": "oiled",
        "test_load": 30,
        "stress_relief": {"temperature": 250} | {"minutes": 20},
    },
}
MARK = "DOES NOT HOLD ITS LOAD: NOT FOR MAKING"


@cache
def good() -> Spring:
    """Return the spring of `SPEC`, computed once for all tests that only read it."""
    return Spring.from_dict(SPEC)


@cache
def failing() -> Spring:
    """Return it under a load that it does not hold."""
    return good().with_(service__loads=[12, 90])


def texts(spring: Spring, paper: str = "A4") -> list[set[str]]:
    pages = sheets(spring.model, spring.summary(), paper)  # type: ignore[arg-type]
    return [{t.text for t in page.texts} for page in pages]


@pytest.mark.parametrize("paper", list(PAPERS))
def test_every_sheet_of_a_failing_spring_is_marked(paper: str) -> None:
    assert not any(MARK in found for found in texts(good(), paper))
    assert all(MARK in found for found in texts(failing(), paper))


def test_draw_says_so_and_leaves_with_1_if_strict(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, spec = str(tmp_path / "s.svg"), tmp_path / "s.yaml"
    spec.write_text(yaml.safe_dump(SPEC | {"service": {"loads": [90]}}))
    assert run(["draw", str(spec), "-o", out]) == 0
    assert "does not hold its load: not for making" in capsys.readouterr().err
    assert run(["draw", str(spec), "-o", out, "--strict"]) == 1
    assert (tmp_path / "s-2.svg").exists()
    spec.write_text(yaml.safe_dump(SPEC))
    capsys.readouterr()
    assert run(["draw", str(spec), "-o", out, "--strict"]) == 0
    assert capsys.readouterr().err == ""


def test_all_loads_stand_on_the_sheet() -> None:
    found = set().union(*texts(good()))
    assert {f"F{k}, L{k}" for k in range(1, 8)} <= found


def test_the_title_block_is_the_files() -> None:
    for found in texts(good()):
        assert set(SPEC["drawing"].values()) <= found  # type: ignore[attr-defined]
    bare = {k: v for k, v in SPEC.items() if k != "drawing"}
    assert not set(SPEC["drawing"].values()) & texts(Spring.from_dict(bare))[0]  # type: ignore[attr-defined]


def test_what_is_asked_of_the_maker_stands_on_the_sheet() -> None:
    spring = good()
    rows = {q: v for _, q, v in rows_of(sheets(spring.model, spring.summary(), "A4"))}
    assert rows["surface, finish"] == "oiled"
    assert rows["stress relief"].replace("\u00a0", " ") == "250 °C, 20 min"
    assert rows["test load, presetting"].replace("\u00a0", " ") == "once to 30 N before measuring"
    assert rows["never drawn beyond"]


def test_bore_and_rod_decide_which_diameter_rules() -> None:
    def ruled(**changes: object) -> set[str]:
        spring = Spring.from_dict(SPEC | {"service": {"loads": [12]}} | changes)
        page = sheets(spring.model, spring.summary(), "A3")[0]
        return {d.label.split()[0] for d in page.linear if d.upright and "(" not in d.label}

    assert ruled() == {"D"}
    assert ruled(mating={"around": {"bore": {"diameter": 12}}}) == {"De"}
    assert ruled(mating={"around": {"rod": {"diameter": 7}}}) == {"Di"}
    assert ruled(making={"controls": "inner"}) == {"Di"}


def test_us_outside_diameters_on_letter_only() -> None:
    # US commercial tolerances as given in a spring maker's sheet: d 0.051 in, C 8: ±0.007 in
    spring = good()
    label = {
        paper: next(
            d.label
            for d in sheets(spring.model, spring.summary(), paper)[0].linear
            if "±" in d.label and d.upright
        )  # type: ignore[arg-type]
        for paper in PAPERS
    }
    assert label["A4"] == label["A3"] == "D Ø<> ±0.25"  # DIN 2097, grade 2
    assert label["Letter"] == "D Ø<> ±0.18"


def test_more_sheets_are_pages_or_files() -> None:
    spring = good()
    args = spring.model, spring.summary()
    pages = len(sheets(*args, "A4"))
    assert pages == 2
    pdf = drawing_files(*args, "pdf")[0]
    assert pdf.count(b"/Type /Page ") == pages
    assert pdf == drawing_files(*args, "pdf")[0]
    assert len(drawing_files(*args, "svg")) == pages
    names = file_names(Path("a/sheet.svg"), 3)
    assert [str(n) for n in names] == ["a/sheet.svg", "a/sheet-2.svg", "a/sheet-3.svg"]
