"""What is not known about a material, by name: the holes in its data, none of them filled in."""

from __future__ import annotations

import math

from springgeo.materials.material_file import Sourced
from springgeo.materials.model import Material
from springgeo.materials.tensile import TableLaw

# Poisson's ratio of solid metals at room temperature: steel 0.27 to 0.30, bronze up to 0.35, with
# what rounding of both moduli may add (common practice)
POISSON = (0.20, 0.36)


def holes(m: Material) -> dict[str, str]:
    """Return what no source at hand gives, by subject, in words."""
    data = m.data
    found = {
        "tensile table": (data.tensile is None, "give wire.tensile_strength"),
        "repeated-load table": (
            data.cyclic_allowables is None,
            "infinite-life data of steel wire below 10 mm stand for every life"
            if m.is_steel
            else "no fatigue factor at all",
        ),
        "strength at temperature": (
            data.strength_at_temperature is None,
            "margins take that at 20 degC",
        ),
        "moduli at temperature": (data.modulus_loss_per_K is None, "the rate is that at 20 degC"),
        "relaxation": (data.relaxation is None, "ask the wire maker, or test"),
        "highest temperature": (data.temperature_limit_degC is None, "no limit is watched"),
        "lowest temperature": (data.temperature_minimum_degC is None, "no limit is watched"),
        "elastic limits": (data.elastic_limits is None, "no load at yield"),
        "EN 13906-2 static share": (data.static_en is None, "no check by that standard"),
        "relative cost": (data.relative_cost is None, "cost cannot be an objective"),
    }
    out = {subject: words for subject, (missing, words) in found.items() if missing}
    if (words := _sparse(m)) is not None:
        out["strength by size"] = words
    if (words := _moduli(m)) is not None:
        out["which modulus holds"] = words
    return out


def _sparse(m: Material) -> str | None:
    """Return a remark on a table too short to be one."""
    law = m.data.tensile
    if isinstance(law, TableLaw) and len(law.rows) == 1:
        low, high = law.span
        return f"one strength for {low:.3g} to {high:.3g} mm"
    return None


def _moduli(m: Material) -> str | None:
    """Return a remark where E and G, both as published, cannot both be right."""
    low, high = m.diameter_range
    middle = 1.0 if not math.isfinite(low) else math.sqrt(low * high)
    ratio = m.poisson(middle)
    if POISSON[0] <= ratio <= POISSON[1]:
        return None
    nearest = min(max(ratio, 0.27), 0.30)
    off = 100 * abs((1 + ratio) / (1 + nearest) - 1)
    return (
        f"E and G as published imply Poisson's ratio {ratio:.2f}: one of them is some {off:.0f} % "
        "off, or the wire is not alike in all directions"
    )


def sources(m: Material) -> dict[str, dict[str, str]]:
    """Return every block of the material's file with its source and how that is known."""
    blocks = {name: getattr(m.data, name) for name in type(m.data).model_fields}
    named = blocks | {f"tensile_laws.{n}": law for n, law in m.data.tensile_laws.items()}
    return {
        name: {"source": block.source, "known": block.known}
        for name, block in named.items()
        if isinstance(block, Sourced) or hasattr(block, "source")
    }
