"""The STEP file of a spring that is not pulled straight where it is mounted."""

from __future__ import annotations

from pathlib import Path

from tests.mounted import aside, gate


def test_its_values_as_mounted_are_attributes_beside_those_of_the_straight_pull(
    tmp_path: Path,
) -> None:
    made = aside({"loads": [0.0, 30.0]})
    made.build(tmp_path, formats=["step"])
    (file,) = tmp_path.glob("*.step")
    text = file.read_text(encoding="ascii")
    (p,) = made.summary().mounted
    for name in ("load_2", "length_2", "hook_bending_2", "margin_hook_bending_2"):
        assert f"'{name}_as_mounted'" in text
        assert f"'{name}'" in text
    assert f"{p.length:.10g}"[:9] in text
    assert "load_1_as_mounted" not in text


def test_a_straight_pull_has_none(tmp_path: Path) -> None:
    gate({"loads": [30.0]}).build(tmp_path, formats=["step"])
    (file,) = tmp_path.glob("*.step")
    assert "as_mounted'" not in file.read_text(encoding="ascii")
