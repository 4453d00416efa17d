from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from springgeo.api import Spring
from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.measure import Readings, measure, read_readings
from tests.springs import kept

TRUTH = kept("gate-latch")
HOOKS = [{"style": "full-twisted-loop"}, {"style": "machine-half-loop", "bend_radius": "2.4 mm"}]


def bench(**change: Any) -> dict[str, Any]:
    """Invented readings of the spring above, with fixed small errors."""
    rng = np.random.default_rng(3)
    s = TRUTH.summary()
    lengths = TRUTH.free_length + np.linspace(1.5, 18, 10)
    k, force = s.along_the_wire.rate, s.initial_tension.force
    loads = force + k * (lengths - TRUTH.free_length)
    return {
        "wire_diameter": [1.20, 1.21, 1.19],
        "outer_diameter": [10.81, 10.79, 10.80],
        "coils": round(s.geometry.body_coils, 2),
        "free_length": [round(TRUTH.free_length + e, 2) for e in (-0.05, 0.05)],
        "body_length": round(1.2 * (s.geometry.body_coils + 1) + 0.02, 2),
        "pulls": [
            {"length": float(x + rng.normal(0, 0.05)), "load": float(f + rng.normal(0, 0.05))}
            for x, f in zip(lengths, loads, strict=True)
        ],
        "length_uncertainty": 0.05,
        "hooks": HOOKS,
    } | change


def test_the_truth_is_found() -> None:
    s = TRUTH.summary()
    found = measure(Readings.model_validate(bench()))
    for interval, truth in (
        (found.line.rate, s.along_the_wire.rate),
        (found.line.tension, s.initial_tension.force),
        (found.shear_modulus, s.material.shear_modulus),
        (found.dimensions["mean diameter"], 9.6),
        (found.dimensions["wire diameter"], 1.2),
    ):
        assert interval.low <= truth <= interval.high
    assert "astm-a228" in [x.material for x in found.likely]
    assert "astm-b159" not in [x.material for x in found.likely]
    codes = {f.code for f in found.findings}
    assert not codes & {"body-open", "tension-lost", "line-bent", "modulus-unknown", "overstressed"}
    Spring.from_dict(found.specification)


WIRE, MEAN, TURNS = 1.2, 9.6, 18.5
SCATTER = 0.2 / np.sqrt(3)  # of the mean of three readings 0.2 mm apart


@pytest.mark.parametrize(
    ("change", "share"),
    [
        # one reading strays far more than all others, and G = 8 D^3 N_a k/d^4 (Shigley eq. 10-9)
        # passes it on by its power; D is the outside less the wire
        ({"outer_diameter": [10.6, 10.8, 11.0]}, 3 * SCATTER / MEAN),
        ({"wire_diameter": [1.0, 1.2, 1.4]}, SCATTER * (4 / WIRE + 3 / MEAN)),
        ({"coils_uncertainty": 4.0}, 4.0 / (TURNS + 11.85 / 29)),  # two hooks: G/E more
    ],
)
def test_the_modulus_is_as_uncertain_as_its_formula(change: dict[str, Any], share: float) -> None:
    fixed = {"wire_diameter": WIRE, "outer_diameter": 10.8, "coils": TURNS}
    fine = {"calliper": 1e-6, "coils_uncertainty": 1e-6}
    found = measure(Readings.model_validate(bench(**(fixed | fine | change))))
    G, rate = found.shear_modulus, found.line.rate
    assert rate.u / rate.value < share / 4
    assert G.u / G.value == pytest.approx(np.hypot(share, rate.u / rate.value), rel=1e-3)


def test_a_stretched_body_is_seen() -> None:
    found = measure(Readings.model_validate(bench(body_length=26.0)))
    assert "body-open" in [f.code for f in found.findings]


def test_an_overload_is_seen() -> None:
    pulls = [*bench()["pulls"], {"length": 130, "load": 86}]
    found = measure(Readings.model_validate(bench(pulls=pulls)))
    assert "overstressed" in [f.code for f in found.findings]


def test_lost_tension_is_seen() -> None:
    pulls = [{"length": p["length"], "load": p["load"] - 6.5} for p in bench()["pulls"]]
    found = measure(Readings.model_validate(bench(pulls=pulls)))
    assert "tension-lost" in [f.code for f in found.findings]


def test_wrong_count_of_coils_fits_no_wire() -> None:
    found = measure(Readings.model_validate(bench(coils=26)))
    codes = {f.code for f in found.findings}
    assert "modulus-unknown" in codes
    assert "body-short" in codes


def test_yaml_and_csv_and_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = bench(hooks=[{"style": "machine-half-loop"}, {"style": "machine-half-loop"}])
    (tmp_path / "a.yaml").write_text(yaml.safe_dump(data))
    rows = [f"pull,{p['length']},{p['load']} N" for p in data["pulls"]]
    several = ("wire_diameter", "outer_diameter", "free_length")
    rows += [",".join([key, *(f"{x} mm" for x in data[key])]) for key in several]
    rows += [f"{k},{data[k]}" for k in ("coils", "body_length", "length_uncertainty")]
    rows += ["# a remark", "hooks,machine-half-loop,machine-half-loop"]
    (tmp_path / "a.csv").write_text("\n".join(rows))
    assert read_readings(tmp_path / "a.csv") == read_readings(tmp_path / "a.yaml")
    assert run(["measure", str(tmp_path / "a.csv"), "-o", str(tmp_path / "spec.yaml")]) == 0
    assert "rate" in capsys.readouterr().out
    Spring.from_file(tmp_path / "spec.yaml")
    assert run(["measure", str(tmp_path / "a.csv"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["rate"]["u"] > 0


@pytest.mark.parametrize("change", [{"pulls": []}, {"wire_diameter": 0}, {"outer_diameter": 2}])
def test_refusals(change: dict[str, Any], tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text(yaml.safe_dump(bench(**change)))
    with pytest.raises(SpecError):
        read_readings(tmp_path / "a.yaml")
