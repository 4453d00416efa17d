"""The table of a sweep against the springs themselves, made one by one."""

from __future__ import annotations

import math
import sys
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest

import springgeo as sg
from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.sweeping import Table
from tests.springs import kept

SPRING = kept("gate-latch")


@cache
def alone(coils: int, wire_diameter: float) -> sg.Summary:
    """Return the summary of one spring of the table, made by itself."""
    data = SPRING.spec.model_dump(mode="json", exclude_none=True)
    data["body"]["coils"], data["wire"]["diameter"] = coils, wire_diameter
    return sg.Spring.from_dict(data).summary()


@pytest.mark.parametrize("method", ["handbook", "along-the-wire"])
def test_rows_are_the_springs_made_one_by_one(method: str) -> None:
    vary = {"body.coils": range(10, 40, 7), "wire.diameter": [1.1, "1.2 mm"]}
    table = sg.sweep(SPRING, vary, method=method)  # type: ignore[arg-type]
    assert table.rows == 10
    assert table["body.coils"].tolist() == [c for c in range(10, 40, 7) for _ in range(2)]
    for n in range(table.rows):
        row = table.row(n)
        s = alone(int(row["body.coils"]), row["wire.diameter"])
        way = s.along_the_wire if method == "along-the-wire" else s
        point = way.points[-1]
        # the handbook's own length is that of its straight line: a spring in less than 2 ms
        line = s.load_line.along_the_wire if way is not s else s.load_line.handbook
        for name, value in (
            ("rate", way.rate),
            ("free_length", s.free_length.model),
            ("mass", s.geometry.mass),
            ("body_coils", s.geometry.body_coils),
            ("initial_tension", s.initial_tension.force),
            ("load", point.load),
            ("length", line[-1].length),
            ("hook_bending", point.hook_bending),
            ("margin_hook_torsion", point.margin.hook_torsion),
            ("margin", min(v for v in point.margin.model_dump().values() if v is not None)),
        ):
            assert row[name] == pytest.approx(value, rel=1e-12), name
        assert row["problem"] == ""


def test_what_cannot_be_made_says_why() -> None:
    table = sg.sweep(SPRING, {"body.index": [2, 8, 30]})
    assert [bool(p) for p in table["problem"]] == [True, False, True]
    assert "index-too-small" in table["problem"][0]
    assert np.isnan(table["rate"]).tolist() == [True, False, True]
    assert table.where(table["problem"] == "").rows == 1


@pytest.mark.parametrize("style", sorted(registry.names()))
def test_every_style(style: str) -> None:
    table = sg.sweep(SPRING, {"ends.first.style": [style], "ends.second.style": [style]}, load=20)
    assert table["problem"].tolist() == [""]
    assert table["load"].tolist() == [20]
    assert math.isfinite(table["rate"][0])
    assert table["margin"][0] > 0


def test_without_a_load_there_is_no_margin() -> None:
    table = sg.sweep(SPRING.with_(service__loads=[]), {"body.coils": [10]})
    assert math.isnan(table["margin"][0])
    assert math.isfinite(table["rate"][0])


@pytest.mark.parametrize(
    ("vary", "options"),
    [
        ({}, {}),
        ({"body.coils": []}, {}),
        ({"a": range(2000), "b": range(2000)}, {}),
        ({"body.coils": [10]}, {"load": math.nan}),
        ({"body.coils": [10]}, {"load": -1}),
        ({"body.coils": [10]}, {"method": "guess"}),
    ],
)
def test_refusals(vary: dict[str, list[int]], options: dict[str, object]) -> None:
    with pytest.raises(SpecError):
        sg.sweep(SPRING, vary, **options)  # type: ignore[arg-type]


def test_a_table_is_a_mapping_that_nothing_changes() -> None:
    table = Table({"a": np.array([1.0, 2.0]), "b": np.array(["<x>", "y"])})
    assert dict(table) == {"a": table["a"], "b": table["b"]}
    assert "&lt;x&gt;" in table._repr_html_()
    with pytest.raises(ValueError, match="read-only"):
        table["a"][0] = 3


class FrameOfColumns:
    """Stands for a library whose frame takes a mapping of columns, as pandas' does."""

    def __init__(self, columns: dict[str, np.ndarray]) -> None:
        self.columns = columns


def test_a_frame_where_pandas_is_there(monkeypatch: pytest.MonkeyPatch) -> None:
    table = sg.sweep(SPRING, {"body.coils": [10, 12]})
    monkeypatch.setitem(sys.modules, "pandas", SimpleNamespace(DataFrame=FrameOfColumns))
    assert table.to_pandas().columns == dict(table)
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(ImportError, match=r"springgeo\[pandas\]"):
        table.to_pandas()


def test_size_takes_a_job_a_mapping_or_a_path(tmp_path) -> None:
    from springgeo.sizing import job_of

    text = {
        "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
        "choice": {"materials": ["astm-a228"], "ends": ["raised-hook"], "series": ["en-iso"]},
    }
    (tmp_path / "job.yaml").write_text(str(text).replace("'", '"'))
    found = [sg.size(j, 1) for j in (text, job_of(text), tmp_path / "job.yaml")]
    assert len({str(f.winners[0].specification) for f in found}) == 1
