"""Springs with fitted ends on the print plate: the parts come along, in place."""

from __future__ import annotations

import pytest

from springgeo.prototype.build import prototype
from springgeo.prototype.options import Options
from tests.fittings.springs import FITTED, spring


@pytest.mark.parametrize("dummy", [False, True])
@pytest.mark.parametrize("style", FITTED)
def test_parts_are_printed_in_place(style: str, dummy: bool) -> None:
    s = spring(style, "full-twisted-loop")
    plate = prototype(s.model, Options(dummy=dummy))
    (item,) = plate.items
    meshes = dict(item.parts)
    (part,) = s.model.geometry.parts
    assert part.name in meshes
    assert meshes[part.name].volume == pytest.approx(part.volume, rel=0.02)
    assert all(m.trimesh().is_watertight for m in meshes.values())
    codes = {f.code for f in plate.findings}
    assert ("held-coils-printed-closed" in codes) is not dummy
