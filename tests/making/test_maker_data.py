"""The maker's data: bent again from the CSV alone, wound by theory, measured within the sheet."""

from __future__ import annotations

import csv
import io
import json
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.making import MakerData, bending_csv, inspection_csv, maker_data, making_json
from springgeo.trade import load_tolerance
from springgeo.trade.stress_relief import stress_relief
from tests.springs import again, kept, made

SPEC = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"outer_diameter": 10.8, "coils": 20.3, "initial_tension": 7, "hand": "left"},
    "ends": {"first": "machine-half-loop", "second": "full-twisted-loop", "facing": 90},
    "service": {"loads": [20, 12]},
}


def data_of(spring: Spring, tolerance: float = 1e-2) -> MakerData:
    return maker_data(spring.model, spring.summary(), "metric", tolerance)


@pytest.mark.parametrize("tolerance", [1e-2, 1e-4])
def test_another_bender_makes_the_wire_from_the_files(tolerance: float) -> None:
    spring = made(SPEC | {"body": SPEC["body"] | {"coils": 7.3}})
    data = data_of(spring, tolerance)
    start = json.loads(making_json(data))["bending"]
    at, t, n = (np.array(start[k]) for k in ("start", "tangent", "plane"))
    s = 0.0
    for row in csv.DictReader(io.StringIO(bending_csv(data))):
        feed, bend, twist = (float(row[k]) for k in ("feed_mm", "bend_deg", "twist_deg"))
        n = Rotation.from_rotvec(math.radians(float(row["rotate_deg"])) * t).apply(n)
        steps = 1 + math.ceil(bend / 0.5)
        for _ in range(steps):  # many short arcs, each after a little twist
            n = Rotation.from_rotvec(math.radians(twist) / steps / 2 * t).apply(n)
            turn = Rotation.from_rotvec(math.radians(bend) / steps * np.cross(t, n))
            half = Rotation.from_rotvec(math.radians(bend) / steps / 2 * np.cross(t, n))
            at = at + feed / steps * half.apply(t)
            t, n = turn.apply(t), turn.apply(n)
            n = Rotation.from_rotvec(math.radians(twist) / steps / 2 * t).apply(n)
        s += feed
        stated = [float(row[k]) for k in ("x_mm", "y_mm", "z_mm")]
        assert np.linalg.norm(at - stated) < 5e-3  # of the short arcs
        true = spring.centreline.point(np.array([s]))[0]
        assert np.linalg.norm(stated - true) < tolerance
    assert s == pytest.approx(data.cut_length, abs=1e-6)


def test_the_wire_keeps_its_length_on_the_arbor() -> None:
    spring = made(SPEC)
    g = spring.summary().geometry
    soft, hard = data_of(spring).winding.wound
    for w in (soft, hard):
        assert w.coils * w.mean == pytest.approx(g.body_coils * g.mean_diameter)
        assert w.arbor == pytest.approx(w.mean - 1.2)
    assert hard.arbor < soft.arbor < g.inner_diameter


@pytest.mark.parametrize(
    ("material", "fahrenheit", "minutes", "coil"),
    # a spring maker's sheet of heat treatments (read)
    [
        ("astm-a228", (500, 500), 30, "shrinks"),
        ("astm-a229", (500, 600), 30, "shrinks"),
        ("astm-a227", (550, 550), 20, "shrinks"),
        ("astm-a313-302", (600, 650), 30, "opens"),
        ("astm-a313-631", (900, 900), 60, "not known"),
        ("astm-a401", (800, 800), 30, "not known"),
    ],
)
def test_stress_relief_as_published(
    material: str, fahrenheit: tuple[int, int], minutes: int, coil: str
) -> None:
    found = stress_relief(material)
    assert found is not None
    assert (found.low * 1.8 + 32, found.high * 1.8 + 32) == pytest.approx(fahrenheit, abs=1)
    assert (found.minutes, found.coil) == (minutes, coil)
    assert stress_relief("en-10270-1-sh") is None  # none was read


def test_tension_wound_in_leaves_the_tension_asked_for() -> None:
    w = data_of(made(SPEC)).winding
    assert w.tension == pytest.approx((7 / 0.8, 7 / 0.65))
    stainless = made(SPEC).with_(wire__material="astm-a313-302")
    assert data_of(stainless).winding.tension is None


def test_what_is_measured_and_between_which_limits() -> None:
    spring = made(SPEC | {"making": {"test_load": 22}})
    rows = list(csv.DictReader(io.StringIO(inspection_csv(data_of(spring)))))
    assert rows[0]["what"] == "test load"
    by = {r["symbol"]: r for r in rows}
    # DIN 2097, grade 2: D 6.3 to 10, w 4 to 8: 0.25; the outside diameter rules
    assert (by["De"]["low"], by["De"]["high"]) == ("10.55", "11.05")
    assert by["L0"]["low"] == ""  # two loads rule
    assert float(by["F1"]["nominal"]) == 12
    assert float(by["F2"]["low"]) < 20 < float(by["F2"]["high"])
    assert by["m"]["how"].startswith("pin gauge")
    assert {r["measured"] for r in rows} == {""}
    assert not any("sampl" in str(r).lower() for r in rows)


def test_loads_are_inspected_within_the_tolerance_of_the_sheet() -> None:
    """The table goes by the deflection that the spring has, not by the textbook's."""
    ends = {"first": "full-loop-at-side", "second": "full-loop-at-side"}
    spring = made(
        SPEC | {"ends": ends, "body": SPEC["body"] | {"coils": 6}, "service": {"loads": [20, 40]}}
    )
    s, line = spring.summary(), spring.summary().load_line
    checks = [c for c in data_of(spring).inspection if c.symbol in ("F1", "F2")]
    g = s.geometry
    for check, point, straight in zip(checks, s.points, line.handbook[2:], strict=True):
        of = load_tolerance(g.index, g.wire_diameter, g.free_length, point.deflection)
        assert check.high is not None
        assert check.high - point.load == pytest.approx(point.load * of.percent / 100)
        assert abs(straight.tolerance_percent - of.percent) > 0.01


def test_a_thread_and_a_pull_out_are_inspected() -> None:
    spring = made(SPEC | {"ends": {"first": "threaded-plug", "second": "plain"}})
    words = [c.what for c in data_of(spring).inspection]
    assert "first end: M4" in words
    assert "first end: pull-out" in words


@pytest.mark.parametrize("ending", ["pdf", "svg", "png", "dxf", "json", "csv"])
def test_the_command_writes_the_same_bytes_twice(
    tmp_path: Path, ending: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = []
    for of in (kept, again):
        monkeypatch.setattr(Spring, "from_preset", staticmethod(of))
        out = tmp_path / of.__name__ / f"making.{ending}"
        out.parent.mkdir()
        assert run(["making", "--preset", "gate-latch", "-o", str(out)]) == 0
        found.append({p.name: p.read_bytes() for p in sorted(out.parent.iterdir())})
    assert found[0] == found[1]
    if ending == "csv":
        assert set(found[0]) == {"making.csv", "making-inspection.csv"}


def test_the_command_refuses_a_tolerance_out_of_range(tmp_path: Path) -> None:
    args = ["making", "--preset", "gate-latch", "-o", str(tmp_path / "m.csv"), "--tolerance", "0"]
    assert run(args) == 2
    assert not list(tmp_path.iterdir())
