"""The service temperature acts on moduli, rate, loads, strength and margins, and has limits."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo import materials
from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.sizing import job_of, size
from springgeo.sizing.job.wires import wires_of
from tests.springs import summary_of

BASE: dict[str, Any] = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"index": 8, "coils": 18, "initial_stress": 100},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": [15, 25]},
}


def at(T: float, **wire: Any) -> sg.Summary:
    service = {**BASE["service"], "temperature": T}
    data = {**BASE, "wire": {**BASE["wire"], **wire}, "service": service}
    return summary_of(data)


@pytest.mark.parametrize(
    ("material", "r"),
    [
        ("astm-a228", 0.25e-3),  # EN 13906-1 cl. 8: carbon steel (from memory)
        ("en-10270-3-1.4310-ns", 0.40e-3),  # stainless (from memory)
        ("astm-b159", 0.36e-3),  # about 2 % per 100 degF: a spring maker's page (read)
    ],
)
def test_moduli_and_rate_fall_with_temperature(material: str, r: float) -> None:
    cold, warm = at(20, material=material), at(80, material=material)
    share = 1 - r * 60
    for name in ("shear_modulus", "elastic_modulus"):
        assert getattr(warm.material, name) == pytest.approx(share * getattr(cold.material, name))
    assert warm.rate == pytest.approx(share * cold.rate)
    assert warm.along_the_wire.rate == pytest.approx(share * cold.along_the_wire.rate, rel=1e-9)
    assert warm.along_the_wire.points[1].deflection > cold.along_the_wire.points[1].deflection
    assert warm.temperature.modulus_share.value == pytest.approx(share)
    assert warm.temperature.modulus_share.source
    # Poisson's ratio stays
    assert warm.along_the_wire.poisson == pytest.approx(cold.along_the_wire.poisson)


def test_a_given_modulus_is_one_at_20_degrees() -> None:
    assert at(60, shear_modulus=80000).material.shear_modulus == pytest.approx(80000 * 0.99)


def test_a_load_at_a_length_falls() -> None:
    def load(T: float) -> float:
        service = {"lengths": [60], "temperature": T}
        return summary_of({**BASE, "service": service}).points[0].load

    tension = at(20).initial_tension.force
    assert load(80) - tension == pytest.approx((load(20) - tension) * 0.985, rel=1e-4)


def test_what_is_not_known_is_said_and_not_guessed() -> None:
    s = at(80)
    assert (s.temperature.strength_share.value, s.temperature.strength_share.source) == (
        None,
        "not known",
    )
    assert s.temperature.relaxation_percent.value is None
    assert s.points[1].margin == at(20).points[1].margin
    codes = {f.code for f in s.findings}
    assert {"strength-at-temperature-unknown", "relaxation-unknown"} <= codes
    # 10 to 35 degC is room temperature: ISO 6892-1 (from memory)
    assert {f.code for f in at(30).findings} == {f.code for f in at(20).findings}
    assert "relaxation-unknown" not in {f.code for f in at(-10).findings}


def test_figures_of_an_own_material(tmp_path: Path) -> None:
    folder = Path(sg.__file__).parent / "materials" / "data"
    text = (folder / "astm-a228.yaml").read_text("utf-8").replace("id: astm-a228", "id: own", 1)
    text += (
        "strength_at_temperature: {rows: [[20.0, 1.0], [60.0, 0.9], [90.0, 0.8]], "
        "source: own tests, known: read}\n"
        "relaxation: {hours: 100, stress_share: 0.4, rows: [[40, 1.0], [80, 3.0]], "
        "source: own tests, known: read}\n"
    )
    (tmp_path / "own.yaml").write_text(text, "utf-8")
    own = str(tmp_path / "own.yaml")
    cold, warm = at(20, material=own), at(75, material=own)
    assert warm.material.tensile_strength == pytest.approx(0.85 * cold.material.tensile_strength)
    for name in ("body_shear", "hook_bending", "hook_torsion"):
        assert getattr(warm.points[1].margin, name) == pytest.approx(
            0.85 * getattr(cold.points[1].margin, name)
        )
    assert warm.temperature.relaxation_percent.value == pytest.approx(2.75)
    codes = {f.code for f in warm.findings}
    assert "relaxation" in codes
    assert "strength-at-temperature-unknown" not in codes
    beyond = at(95, material=own)  # above the last row
    assert beyond.temperature.strength_share.value is None
    assert materials.load(own).relaxation(95) is None


@pytest.mark.parametrize(("T", "code"), [(130, "too-hot"), (-40, "too-cold")])
def test_beyond_the_limits_is_an_error(
    T: float, code: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SpecError) as caught:
        at(T)
    (finding,) = caught.value.findings
    assert (finding.code, finding.severity, finding.field) == (
        code,
        "error",
        "service.temperature",
    )
    assert "EN 10270-1" in finding.message
    (tmp_path / "spec.yaml").write_text(
        "wire: {material: astm-a228, diameter: 1 mm}\nbody: {index: 8, coils: 10}\n"
        f"ends: {{a: {{style: raised-hook}}, b: {{style: plain}}}}\nservice: {{temperature: {T}}}\n"
    )
    assert run(["check", str(tmp_path / "spec.yaml")]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_sizing_takes_the_wire_as_it_is_at_temperature() -> None:
    job = {
        "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
        "choice": {"materials": ["astm-a228"]},
    }
    cold, warm = (
        wires_of(job_of({**job, "service": {"temperature": T}}), ((0.5, 1.0, 1.0),))
        for T in (20, 80)
    )
    np.testing.assert_allclose(warm.G, 0.985 * cold.G)
    np.testing.assert_allclose(warm.E, 0.985 * cold.E)


@pytest.mark.parametrize(("T", "words"), [(130, "lowered to 100"), (-60, "raised to -30")])
def test_sizing_says_which_temperature_would_do(T: float, words: str) -> None:
    job = job_of(
        {
            "points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}],
            "service": {"temperature": T},
            "choice": {"materials": ["astm-a228"], "ends": ["machine-half-loop"]},
        }
    )
    found = size(job)
    assert not found.winners
    assert any(words in r.text for r in found.why_not)
