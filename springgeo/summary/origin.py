"""What the handbook starts from, each value with where it comes from: specification, wire, shape.

Without a recording (``springgeo.worked``) these are the plain numbers.
"""

from __future__ import annotations

from springgeo.materials.material_file import Sourced
from springgeo.spring.model import SpringModel
from springgeo.worked.number import told

SPEC = "the specification"
GIVEN = "given"
SHAPE = "the centreline as built"


def given(x: float, symbol: str, title: str, unit: str, field: str) -> float:
    """Return a value of the specification."""
    return told(
        x, "given", symbol=symbol, title=title, unit=unit, source=f"{SPEC}, {field}", known=GIVEN
    )


def read_off(x: float, symbol: str, title: str, unit: str, *notes: str) -> float:
    """Return a value read off the centreline."""
    return told(
        x,
        "read off",
        symbol=symbol,
        title=title,
        unit=unit,
        source=SHAPE,
        known="derived",
        notes=notes,
    )


def data(x: float, block: Sourced | None, symbol: str, title: str, unit: str, *notes: str) -> float:
    """Return a value of the material's file."""
    source, known = ("not stated", "not known") if block is None else (block.source, block.known)
    return told(
        x, "data", symbol=symbol, title=title, unit=unit, source=source, known=known, notes=notes
    )


def named(x: float, symbol: str, title: str, unit: str = "") -> float:
    """Return what sums and ratios have given, under a name of its own."""
    return told(
        x, "arithmetic", symbol=symbol, title=title, unit=unit, source="definition", known="derived"
    )


def wire_diameter(model: SpringModel) -> float:
    """Return d, mm."""
    return given(model.body.wire_diameter, "d", "wire diameter", "mm", "wire.diameter")


def mean_diameter(model: SpringModel, d: float) -> float:
    """Return D, mm, from the diameter or the index that was given."""
    body, title = model.spec.body, "mean diameter of the coils"

    def of(x: float, symbol: str, words: str, field: str, unit: str = "mm") -> float:
        return given(x, symbol, words, unit, f"body.{field}")

    if body.outer_diameter is not None:
        found = of(body.outer_diameter, "D_e", "outer diameter", "outer_diameter") - d
    elif body.inner_diameter is not None:
        found = of(body.inner_diameter, "D_i", "inner diameter", "inner_diameter") + d
    elif body.index is not None:
        found = of(body.index, "C", "spring index", "index", "") * d
    else:
        return of(model.body.mean_diameter, "D", title, "mean_diameter")
    return named(found, "D", title, "mm")


def body_coils(model: SpringModel) -> float:
    """Return N_b, as given or as the angle between the loops asks for."""
    if model.turns == model.spec.body.coils:
        return given(model.turns, "N_b", "body coils", "", "body.coils")
    wanted = f"{model.spec.body.coils:g} asked for; the nearest count at which the loops stand as"
    return read_off(model.turns, "N_b", "body coils", "", f"{wanted} ends.angle or facing says")


def free_length(model: SpringModel) -> float:
    """Return L_0, mm: the length inside hooks of the centreline."""
    return read_off(
        model.geometry.length,
        "L_0",
        "free length inside hooks",
        "mm",
        "from contact to contact: hook length + body coils times pitch + d + hook length along the "
        "axis, in closed form, and what contacts out of line are further apart; with a solid it is "
        "held against the solid's exact box (checks)",
    )


def load(x: float) -> float:
    """Return a load that the specification gives, N."""
    return given(x, "F", "load", "N", "service")


def tensile_strength(model: SpringModel) -> float:
    """Return the least tensile strength at 20 degC, MPa."""
    wire, title = model.spec.wire, "tensile strength, minimum"
    if wire.tensile_strength is not None:
        return given(wire.tensile_strength, "S_ut", title, "MPa", "wire.tensile_strength")
    d = model.body.wire_diameter
    found = model.material.tensile(d, law=wire.tensile_law)
    return told(
        found.minimum,
        "data",
        symbol="S_ut",
        title=title,
        unit="MPa",
        source=found.source,
        known=found.known,
        notes=(model.material.title, model.material.row(d, wire.tensile_law)),
    )


def shear_modulus(model: SpringModel) -> float:
    """Return G at 20 degC, MPa."""
    own, m = model.spec.wire.shear_modulus, model.material
    if own:
        return given(own, "G", "shear modulus", "MPa", "wire.shear_modulus")
    block, d = m.data.shear_modulus, model.body.wire_diameter
    G = float(m.shear_modulus(d))
    return data(G, block, "G", "shear modulus", "MPa", m.title, block.row(d))


def elastic_modulus(model: SpringModel) -> float:
    """Return E at 20 degC, MPa."""
    own, m = model.spec.wire.elastic_modulus, model.material
    if own:
        return given(own, "E", "Young's modulus", "MPa", "wire.elastic_modulus")
    block = m.data.elastic_modulus
    E = float(m.elastic_modulus(model.body.wire_diameter))
    return data(
        E, block, "E", "Young's modulus", "MPa", m.title, block.row(model.body.wire_diameter)
    )


def density(model: SpringModel) -> float:
    """Return the density, kg/mm³."""
    m = model.material
    return data(m.density, m.data.density_g_cm3, "rho", "density", "kg/mm^3", m.title)


def at_temperature(x: float, share: float, block: Sourced | None, T: float, symbol: str) -> float:
    """Return a modulus or a strength at the service temperature: its share of that at 20 degC."""
    if share == 1.0:
        return x
    part = data(share, block, "q", f"share left at {T:g} degC", "")
    return named(part * x, symbol, f"the same at {T:g} degC", "MPa")


def static_shares(model: SpringModel) -> tuple[float, float, float]:
    """Return the static allowables of body, hook bending and hook torsion over S_ut."""
    block, m = model.material.data.static_allowables, model.material
    a, b, c = (
        data(x, block, "share", f"static allowable over tensile strength, {words}", "", m.title)
        for x, words in zip(
            m.static_allowables, ("body", "hook bending", "hook torsion"), strict=True
        )
    )
    return a, b, c
