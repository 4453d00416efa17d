"""What a wire endures at body, A and B: the material's published data, ready for every life.

The one place where a material meets the fatigue model; the summary and the search both ask here.
"""

from __future__ import annotations

import numpy as np

from springgeo.materials import Material
from springgeo.mechanics import life
from springgeo.mechanics.value import Value
from springgeo.trade.practice import practice
from springgeo.worked.number import recording, told

# Zimmerli's data hold for steel wire below this diameter, mm
ZIMMERLI_DIAMETER = practice("zimmerli_diameter")
# in the order of a material's shares
PLACES = ("body_shear", "hook_bending", "hook_torsion")


def endured_places(
    material: Material, d: Value, S_ut: Value, peened: bool = False
) -> dict[str, life.Endured]:
    """Return what wires of one material endure, by place.

    Parameters
    ----------
    material : Material
    d, S_ut : float or array
        Wire diameter, mm, and its tensile strength, MPa, broadcasting.
    peened : bool
        Whether the wire's surface was shot-peened.
    """
    table = sorted((material.cyclic_allowables or {}).items())
    return {
        name: life.endured(
            [(cycles, _share(material, shares[i], cycles)) for cycles, shares in table],
            S_ut,
            bending=name == "hook_bending",
            static=_share(material, material.static_allowables[i]),
            zimmerli=np.asarray(zimmerli_holds(material, d)),
            peened=peened,
        )
        for i, name in enumerate(PLACES)
    }


def _share(material: Material, x: float, cycles: float | None = None) -> float:
    """Return a share of tensile strength of the material's file, with where it stands."""
    if not recording():
        return x
    data = material.data
    block = data.static_allowables if cycles is None else data.cyclic_allowables
    assert block is not None
    row = "static" if cycles is None else f"load from zero, row of {cycles:g} cycles"
    return told(
        x,
        "data",
        symbol="share",
        title=f"allowable over tensile strength, {row}",
        source=block.source,
        known=block.known,
        notes=(material.title,),
    )


def zimmerli_holds(material: Material, d: Value) -> Value:
    """Return whether Zimmerli's data cover wires of a diameter in mm: steel below 10 mm."""
    return np.asarray(material.is_steel & (np.asarray(d) < ZIMMERLI_DIAMETER))
