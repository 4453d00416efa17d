"""A user's own material file: read like a built-in one, refused in one line otherwise."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from springgeo import materials
from springgeo.errors import FileError, SpecError

GOOD = files("springgeo.materials").joinpath("data", "astm-a228.yaml").read_text("utf-8")


def own(folder: Path, text: str) -> Path:
    path = folder / "own.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_good_file(tmp_path: Path) -> None:
    path = own(tmp_path, GOOD.replace("id: astm-a228", "id: my-wire"))
    for material in (materials.load(path), materials.get(str(path))):
        assert material.id == "my-wire"
        assert material.tensile(1.0) == materials.get("astm-a228").tensile(1.0)


def test_what_may_be_left_out(tmp_path: Path) -> None:
    optional = (
        "temperature_minimum_degC:",
        "static_en:",
        "relative_cost:",
        "modulus_loss_per_K:",
    )
    lines = [x for x in GOOD.splitlines() if not x.startswith(optional)]
    material = materials.load(own(tmp_path, "\n".join(lines)))
    assert material.temperature_minimum is None
    assert material.static_en is None
    assert material.relative_cost is None


BAD = {
    "extra key": (GOOD + "colour: blue\n", "colour: Extra inputs are not permitted"),
    "no source": (GOOD.replace('  source: "table of moduli', '  note: "x'), "shear_modulus.source"),
    "not known how": (GOOD.replace("known: read", "known: guessed"), "tensile.known"),
    "nan": (GOOD.replace("[0.004, 439]", "[0.004, .nan]"), "tensile.rows.0.1: "),
    "infinite": (GOOD.replace("value: 7.85", "value: .inf"), "density_g_cm3.value"),
    "huge": (GOOD.replace("value: 7.85", "value: 1" + "0" * 400), "density_g_cm3|beyond"),
    "digits": (GOOD.replace("value: 7.85", "value: 1" + "0" * 9000), "readable"),
    "text for a number": (GOOD.replace("value: 7.85", 'value: "7.85"'), "density_g_cm3.value"),
    "density unit": (GOOD.replace("value: 7.85", "value: 7850"), "g/cm3"),
    "yes for a number": (GOOD.replace("value: 7.85", "value: yes"), "density_g_cm3.value"),
    "rows in disorder": (GOOD.replace("[0.004, 439]", "[0.4, 439]"), "increasing diameters"),
    "some maxima": (GOOD.replace("[0.004, 439]", "[0.004, 439, 480]"), "all rows or none"),
    "moduli": (GOOD.replace("[null, 11.6]", "[null, 8.0]"), "do not fit together"),
    "open row": (GOOD.replace("[null, 11.6]", "[5, 11.6]"), "last row"),
    "kind": (GOOD.replace("kind: table", "kind: tabel"), "tensile: "),
    "negative": (GOOD.replace("A: 201", "A: -201"), "tensile_laws.power-law-inch.pieces.0.A"),
    "cold above hot": (GOOD.replace("value: -30", "value: 300"), "temperature_minimum_degC is"),
    "cold not sourced": (GOOD.replace("value: -30, source", "value: -30, note"), "minimum_degC"),
    "share above one": (GOOD.replace("_en: {value: 0.45", "_en: {value: 45"), "static_en.value"),
    "life out of order": (GOOD.replace("cycles: 100000,", "cycles: 2e6,"), "rising cycles|cycles"),
    "stronger later": (GOOD.replace("shear: 0.33", "shear: 0.37"), "cannot allow a higher"),
    "limits crossed": (GOOD.replace("[0.45, 0.60]", "[0.60, 0.45]"), "least value is above"),
    "modulus gains": (GOOD.replace("value: 0.00025", "value: -0.1"), "per kelvin"),
    "list": ("- 1\n", "mapping at the top"),
    "empty": ("", "mapping at the top"),
    "not yaml": ("a: [1\n", "line 2"),
    "python tag": ("a: !!python/object/apply:os.getcwd []\n", "line 1"),
    "alias": ("a: &x [1]\nb: *x\n", "aliases"),
    "twice": (GOOD + "id: again\n", "'id' is given twice"),
    "deep": ("[" * 100_000, "deeper than"),
}


@pytest.mark.parametrize("case", BAD)
def test_a_bad_file_is_refused_in_one_line(tmp_path: Path, case: str) -> None:
    text, words = BAD[case]
    assert text != GOOD
    with pytest.raises(SpecError, match=words) as caught:
        materials.load(own(tmp_path, text))
    assert "\n" not in str(caught.value)
    assert len(str(caught.value)) < 500
    assert "own.yaml" in str(caught.value)
    assert caught.value.findings[0].code == "bad-material-file"


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    for path in (tmp_path / "none.yaml", tmp_path, Path("x" * 5000 + ".yaml"), "a\0.yaml"):
        with pytest.raises(FileError) as caught:
            materials.load(path)
        assert "\n" not in str(caught.value)
    (tmp_path / "own.yaml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(FileError, match="UTF-8"):
        materials.load(tmp_path / "own.yaml")


def test_a_power_law_as_the_only_strength_is_noted(tmp_path: Path) -> None:
    start, end = GOOD.index("tensile:"), GOOD.index("shear_modulus:")
    law = (
        "tensile:\n  kind: power\n  length: mm\n  stress: MPa\n"
        "  pieces: [{range: [1, 2], A: 2000, m: 0.1}]\n  source: test\n  known: read\n"
    )
    material = materials.load(own(tmp_path, GOOD[:start] + law + GOOD[end:]))
    assert material.laws == ["table"]
    assert [f.code for f in material.caveats(1.0)] == ["tensile-power-law"]
    assert material.tensile(1.0).minimum == 2000
