"""From a specification to a model: what is refused there, and under which field's name."""

from __future__ import annotations

from typing import Any

import pytest

from springgeo.errors import SpecError
from springgeo.findings import Finding
from springgeo.specification.load import spec_of
from springgeo.spring.model import SpringModel


def data(a: dict[str, Any], b: dict[str, Any] | None = None, **wire: object) -> dict[str, Any]:
    """Return the specification of a spring of index 8 in 1.2 mm wire."""
    return {
        "wire": {"diameter": 1.2, **wire},
        "body": {"index": 8, "coils": 6},
        "ends": {"first": a, "second": {"style": "plain"} if b is None else b},
    }


def refusal(spec: dict[str, Any]) -> Finding:
    """Return the one finding with which a valid specification cannot be made."""
    good = spec_of(spec)
    with pytest.raises(SpecError) as caught:
        SpringModel.of(good)
    (finding,) = caught.value.findings
    return finding


@pytest.mark.parametrize("side", ["first", "second"])
@pytest.mark.parametrize(
    ("end", "field", "code"),
    [
        ({"style": "raised-hok"}, "style", "unknown-end-style"),
        ({"style": "raised-hook", "bend_radus": 2}, "bend_radus", "unknown-key"),
        ({"style": "raised-hook", "bend_radius": "2 N"}, "bend_radius", "bad-value"),
        ({"style": "raised-hook", "bend_radius": 20}, "bend_radius", "bend-radius-too-large"),
        ({"style": "raised-hook", "hook_length": 2}, "hook_length", "hook-too-short"),
        ({"style": "plain", "opening": 2}, "opening", "unknown-key"),
    ],
)
def test_the_field_is_that_of_the_file(
    side: str, end: dict[str, Any], field: str, code: str
) -> None:
    plain = {"style": "plain"}
    found = refusal(data(end, plain) if side == "first" else data(plain, end))
    assert found.field == f"ends.{side}.{field}"
    assert found.code == code


def test_wire_that_meets_itself() -> None:
    hook = {"style": "short-twisted-loop", "bend_radius": 1.98, "rise_radius": 2.93}
    assert SpringModel.of(spec_of(data(hook)))
    found = refusal(data(hook | {"opening": 0.31}))
    assert found.code == "wire-meets-itself"
    assert found.field == "ends.first"
    assert "first end, bend" in found.message
    assert "1.2 mm" in found.message


def test_coils_that_touch_leave_no_room_for_a_twisted_bend() -> None:
    spec = data({"style": "full-twisted-loop"})
    spec["body"] = {"index": 5, "coils": 6, "coil_clearance": 0}
    found = refusal(spec)
    assert found.code == "wire-meets-itself"
    assert "leave coil_clearance at 0.002" in found.message
    spec["body"]["coil_clearance"] = 0.002
    assert SpringModel.of(spec_of(spec))


def test_unknown_material_gets_the_nearest() -> None:
    with pytest.raises(SpecError) as caught:
        spec_of(data({"style": "plain"}, material="astm-a228x"))
    (found,) = caught.value.findings
    assert found.field == "wire.material"
    assert "'astm-a228'" in found.message


@pytest.mark.parametrize("diameter", [0.05, 3.175, 20.0])
def test_size_does_not_matter(diameter: float) -> None:
    """A spring twice as large is the same spring: every length scales, coils and angles stay."""
    half = {"style": "machine-half-loop"}

    def hook(scale: float) -> dict[str, Any]:
        return {"style": "full-twisted-loop", "bend_radius": 1.8 * scale, "opening": 0.8 * scale}

    one = SpringModel.of(spec_of(data(hook(1.0), half))).geometry
    scale = diameter / 1.2
    other = SpringModel.of(spec_of(data(hook(scale), half, diameter=diameter))).geometry
    assert other.path.length == pytest.approx(scale * one.path.length, rel=1e-12)
    assert other.length == pytest.approx(scale * one.length, rel=1e-12)
    assert other.angle == pytest.approx(one.angle, rel=1e-12)
