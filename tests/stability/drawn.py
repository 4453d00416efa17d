"""Specifications drawn at random: each value in its range, at its ends, and beyond it; seeded."""

from __future__ import annotations

import math
from typing import Any

from springgeo import materials, units
from springgeo.curve import pitch_for_distance
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndStyle

from .mating import part
from .wild import Random, pick

INCH = 25.4


def between(rng: Random, low: float, high: float) -> float:
    """Return a number between two, evenly by its logarithm."""
    return float(low * (high / low) ** rng.random())


def length(rng: Random, mm: float) -> float | str:
    """Return a length as somebody might write it."""
    forms: tuple[float | str, ...] = (
        mm,
        mm,
        f"{mm!r} mm",
        f"{mm / INCH!r} in",
        f"{mm / 10:.6g} cm",
    )
    found: float | str = pick(rng, forms)
    return found


def specification(
    rng: Random, *, styles: tuple[str, str] | None = None, coils: float = 500.0
) -> dict[str, Any]:
    """Return a specification of a spring that can be made, or nearly.

    Three of five stay where a spring can mostly be made; the others dare more. ``styles`` of the
    two ends are drawn if left out; ``coils`` is the most of them.
    """
    daring = rng.random() < 0.4
    d = between(rng, 0.05, 20) if daring else between(rng, 0.3, 5)
    index = between(rng, 3, 25) if daring else float(rng.uniform(4.5, 16))
    turns = between(rng, 2, coils) if rng.random() < 0.3 else float(rng.uniform(2, min(30, coils)))
    if rng.random() < 0.2:
        turns = float(round(turns))
    names = styles or (str(pick(rng, registry.names())), str(pick(rng, registry.names())))
    size = length(rng, d)
    d = units.parse(size, "length")
    data: dict[str, Any] = {
        "wire": wire(rng, size, daring),
        "body": body(rng, d, index, turns, daring),
        "ends": {},
    }
    end = _body_end(d, index, data["body"])
    for side, name in zip(("first", "second"), names, strict=True):
        data["ends"][side] = {"style": name, **parameters(rng, registry.get(name), end, daring)}
    if rng.random() < 0.2:
        data["ends"]["angle"] = pick(rng, (0, 90, 180, f"{rng.uniform(-7, 7):.4f} rad", "30 deg"))
    if rng.random() < 0.8:
        data["service"] = service(rng, d, index, turns, daring)
    if rng.random() < 0.15:
        inside = d * (index - 1)
        data["mating"] = {s: part(rng, inside) for s in ("first", "second") if rng.random() < 0.7}
        data["mating"]["play"] = length(rng, float(rng.uniform(0, 2)))
    if rng.random() < 0.2:
        data["name"] = pick(rng, ("spring 1", "Feder", "x" * 60, "a/b", "member", "é"))
    return data


def wire(rng: Random, size: float | str, daring: bool) -> dict[str, Any]:
    """Return a wire of this diameter: a table's, or with values of one's own."""
    found: dict[str, Any] = {"diameter": size}
    if rng.random() < 0.7:
        found["material"] = str(pick(rng, materials.names()))
    if daring and rng.random() < 0.2:
        found["tensile_law"] = str(pick(rng, ("table", "power-law", "formula")))
    if rng.random() < 0.5:
        found["tensile_strength"] = float(rng.uniform(500, 3000))
    if rng.random() < 0.2:
        G, poisson = float(rng.uniform(20e3, 90e3)), float(rng.uniform(0, 0.45))
        found["shear_modulus"] = G
        found["elastic_modulus"] = f"{2 * G * (1 + poisson) / 1000:.6g} GPa"
    if daring and rng.random() < 0.2:
        found[str(pick(rng, ("shear_modulus", "elastic_modulus")))] = between(rng, 1e3, 1e6)
    return found


def body(rng: Random, d: float, index: float, turns: float, daring: bool) -> dict[str, Any]:
    """Return a body with its diameter in one of four forms, and tension or a pitch in any."""
    forms = {
        "mean_diameter": d * index,
        "outer_diameter": d * (index + 1),
        "inner_diameter": d * (index - 1),
    }
    name = str(pick(rng, ("index", *forms)))
    found: dict[str, Any] = {"coils": turns, "hand": str(pick(rng, ("left", "right")))}
    found[name] = index if name == "index" else length(rng, forms[name])
    stress = float(rng.uniform(0, 1.5) * 231 / math.exp(0.105 * index))
    what = rng.random()
    if what < 0.15:
        found["initial_stress"] = stress
    elif what < 0.3:
        found["initial_tension"] = stress * math.pi * d * d / (8 * index)
    elif what < 0.35:
        found[str(pick(rng, ("initial_stress", "initial_tension")))] = 0
    elif what < 0.4 and daring:
        found["initial_stress"] = between(rng, 1, 1e4)
    elif what < 0.5:
        found["pitch"] = length(rng, d * float(rng.uniform(1.06, 5.2 if daring else 4)))
    elif what < 0.6:
        found["gap"] = length(rng, d * float(rng.uniform(0.01, 4.2)))
    if not daring and index > 16 and len(found) == 3:
        found["initial_stress"] = stress
    if rng.random() < 0.1 and "pitch" not in found and "gap" not in found:
        found["coil_clearance"] = float(rng.uniform(0, 0.022 if daring else 0.02))
    return found


def _body_end(d: float, index: float, given: dict[str, Any]) -> BodyEnd:
    """Return about the end that such a body has."""
    r = d * index / 2
    wide = "pitch" in given or "gap" in given
    pitch = d * 2 if wide else pitch_for_distance(r, 1.002 * d)
    return BodyEnd(d, r, pitch)


def parameters(rng: Random, style: EndStyle, end: BodyEnd, daring: bool) -> dict[str, Any]:
    """Return parameters of a style: none, those of its range, and, daring, others beyond it."""
    if rng.random() < 0.25:
        return {}
    known, found = dict(style.ranges(end)), {}
    for name in style.parameters.model_fields:
        low, high = known.get(name, (0.3 * end.wire_diameter, 4 * end.coil_radius))
        what = rng.random()
        if name in known and what < 0.5:
            found[name] = float(rng.uniform(low, high))
        elif name in known and what < 0.6:
            found[name] = float(pick(rng, (low, high)))
        elif what > (0.7 if daring else 0.95):
            wide = between(rng, 0.2, 4) if daring else between(rng, 0.8, 1.25)
            found[name] = wide * float(rng.uniform(low, max(low, high)))
    return found


def service(rng: Random, d: float, index: float, turns: float, daring: bool) -> dict[str, Any]:
    """Return loads or lengths from nought to past what the spring holds, a duty, temperature."""
    top = 800 * math.pi * d * d / (8 * index)
    free = d * (turns + 1 + 2 * index)

    def force() -> float | str:
        value = top * float(rng.uniform(0, 1) if rng.random() < 0.8 else between(rng, 1e-4, 5))
        return value if rng.random() < 0.8 else f"{value / 4.4482216:.8g} lbf"

    def reach() -> float | str:
        return length(rng, free * (1 + float(rng.uniform(-0.1 if daring else 0.1, 0.6))))

    found: dict[str, Any] = {}
    if rng.random() < 0.7:
        found["loads"] = [force() for _ in range(int(rng.integers(0, 4)))]
    if rng.random() < 0.25:
        found["lengths"] = [reach() for _ in range(int(rng.integers(1, 4)))]
    duty = str(pick(rng, ("static", "static", "cyclic", "infinite")))
    found["duty"] = duty
    if duty == "cyclic" and rng.random() < 0.6:
        found["cycles"] = between(rng, 1, 1e12)
    elif duty == "cyclic":
        found["spectrum"] = [_range(rng, top, free) for _ in range(int(rng.integers(1, 5)))]
    if rng.random() < 0.3:
        warm = float(rng.uniform(-60, 350) if daring else rng.uniform(-20, 90))
        found["temperature"] = warm if rng.random() < 0.7 else f"{warm * 1.8 + 32:.5g} degF"
    if rng.random() < 0.15:
        found["forcing_frequency"] = between(rng, 0.01, 1e4)
    if rng.random() < 0.2:
        found["peened"] = True
    return found


def _range(rng: Random, top: float, free: float) -> dict[str, Any]:
    count = between(rng, 1, 1e10)
    if rng.random() < 0.7:
        return {"loads": sorted(float(rng.uniform(0, 0.8)) * top for _ in "lh"), "count": count}
    pair = sorted(free * (1 + float(rng.uniform(0, 0.4))) for _ in "lh")
    return {"lengths": pair, "count": count}
