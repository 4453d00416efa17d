"""Built-in materials: every block sourced, values in the units promised, clear refusals."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest
import yaml

from springgeo import materials
from springgeo.errors import SpecError


@pytest.mark.parametrize("name", [*materials.names(), "wire_sizes"])
def test_every_block_of_data_has_its_source(name: str) -> None:
    text = files("springgeo.materials").joinpath("data", f"{name}.yaml").read_text("utf-8")
    blocks = yaml.safe_load(text)
    laws = blocks.pop("tensile_laws", {})
    mappings = [b for b in [*blocks.values(), *laws.values()] if isinstance(b, dict)]
    assert mappings
    for block in mappings:
        assert block["source"].strip()
        assert block["known"] in {"read", "from memory", "common practice"}
    for key, value in blocks.items():
        assert isinstance(value, dict | str | list | None), key  # no bare numbers


@pytest.mark.parametrize("name", materials.names())
def test_values_are_plausible(name: str) -> None:
    m = materials.get(name)
    assert m.id == name
    assert 7e-6 < m.density < 9e-6
    assert m.temperature_limit is not None
    assert 90 <= m.temperature_limit <= 540
    for d in (0.1, 1.0, 2.0, 5.0, 15.0):
        assert 40e3 < m.shear_modulus(d) < 85e3
        assert 100e3 < m.elastic_modulus(d) < 220e3
        assert 0.2 < m.poisson(d) < 0.41
    body, bending, shear = m.static_allowables
    assert (body, bending, shear) in {(0.45, 0.75, 0.40), (0.35, 0.55, 0.30)}
    assert m.initial_tension_possible


def test_moduli_change_at_the_table_breaks() -> None:
    # Machinery's Handbook: music wire 12.0, 11.85, 11.75, 11.6 Mpsi up to .032, .063, .125 in
    a228 = materials.get("astm-a228")
    mpsi = 6894.757293168361
    sizes = (0.032, 0.033, 0.063, 0.125, 0.126)
    found = [a228.shear_modulus(x * 25.4) / mpsi for x in sizes]
    assert found == pytest.approx([12.0, 11.85, 11.85, 11.75, 11.6])


@pytest.mark.parametrize("name", materials.names())
def test_moduli_of_arrays_agree_with_those_of_numbers(name: str) -> None:
    m = materials.get(name)
    d = np.array([[0.1, 0.8128, 0.9], [1.6, 3.2, 15.0]])  # 0.8128 mm is 0.032 in, a break
    for function in (m.shear_modulus, m.elastic_modulus, m.poisson):
        found = function(d)
        assert found.shape == d.shape
        assert found.ravel().tolist() == [function(float(x)) for x in d.ravel()]
        assert type(function(1.0)) is float
        assert np.isnan(function(np.array([np.nan]))).all()


def test_lowest_temperatures() -> None:
    # wire makers' EN 10270-1 and EN 10270-3 data sheets: from -30 and from -200 degC
    found = {n: materials.get(n).temperature_minimum for n in materials.names()}
    assert {found[f"en-10270-1-{g}"] for g in ("sl", "sm", "dm", "sh", "dh")} == {-30}
    assert {found[f"en-10270-3-{g}"] for g in ("1.4310-ns", "1.4310-hs", "1.4401")} == {-200}
    assert found["en-10270-3-1.4568"] is None  # no source gives one
    assert found["astm-a401"] is None


def test_static_fraction_of_the_standard() -> None:
    # EN 13906-2: 0.45 of the minimum tensile strength, as quoted by a spring maker
    assert materials.get("en-10270-1-sm").static_en == 0.45
    assert materials.get("alloy-x750").static_en is None


def test_cyclic_allowables_are_those_of_shigley() -> None:
    expected = {1e5: (0.36, 0.51, 0.34), 1e6: (0.33, 0.47, 0.30), 1e7: (0.30, 0.45, 0.28)}
    assert materials.get("astm-a228").cyclic_allowables == expected
    assert materials.get("astm-a313-302").cyclic_allowables == expected
    assert materials.get("astm-a227").cyclic_allowables is None


def test_caveats() -> None:
    def codes(name: str, d: float) -> set[str]:
        found = materials.get(name).caveats(d)
        assert {f.severity for f in found} <= {"note"}
        assert {f.field for f in found} <= {"wire.material"}
        return {f.code for f in found}

    assert codes("astm-a228", 1.0) == set()
    assert "tensile-from-memory" in codes("astm-a401", 2.0)
    assert "tensile-at-the-floor" in codes("astm-a401", 10.0) - codes("astm-a401", 9.0)
    assert {"modulus-from-memory", "temperature-from-memory"} <= codes("alloy-x750", 1.0)
    assert "low-confidence" in codes("en-10270-3-1.4568", 1.0)
    for name in materials.names():
        found = {f.code for f in materials.get(name).caveats(1.0, cyclic=True)}
        has_table = materials.get(name).cyclic_allowables is not None
        assert ("cyclic-table-missing" in found) != has_table
    assert "tensile-rows-sparse" in codes("en-10270-3-1.4401", 1.0)
    assert "tensile-rows-sparse" not in codes("en-10270-3-1.4401", 2.0)


def test_unknown_name() -> None:
    with pytest.raises(SpecError, match="did you mean 'astm-a228'") as caught:
        materials.get("astm-a288")
    assert caught.value.findings[0].code == "unknown-material"
    assert caught.value.findings[0].field == "wire.material"
    for name in ("wire_sizes", "../astm-a228", ""):
        with pytest.raises(SpecError):
            materials.get(name)


@pytest.mark.parametrize("d", [0.0, -1.0, 0.1, 30.0, float("nan"), float("inf")])
def test_size_outside_the_table(d: float) -> None:
    with pytest.raises(SpecError, match=r"0\.508 to 15\.88 mm"):
        materials.get("astm-a227").tensile(d)


@pytest.mark.parametrize("name", ["astm-a313-316", "en-10270-3-1.4568"])
def test_a_material_without_a_table_says_what_to_do(name: str) -> None:
    m = materials.get(name)
    assert m.laws == []
    with pytest.raises(SpecError, match=r"wire\.tensile_strength"):
        m.tensile(1.0)


def test_get_reads_once() -> None:
    assert materials.get("astm-a228") is materials.get("astm-a228")
