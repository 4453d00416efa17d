"""A stress along the wire taken apart: place, section forces, coefficients, evidence."""

from __future__ import annotations

import math
from dataclasses import fields
from typing import Protocol

import numpy as np

from springgeo.statics import UnitStress, WireStress
from springgeo.statics.around import ANGLES
from springgeo.statics.bands import band, table
from springgeo.statics.felt import Felt
from springgeo.statics.forces import SectionForces
from springgeo.statics.regions import Peak
from springgeo.statics.surface import surface
from springgeo.summary.handbook import Handbook
from springgeo.worked import expression as e
from springgeo.worked.expression import Node
from springgeo.worked.number import Step, told, worked

_UNITS = {"N": "N", "V_n": "N", "V_b": "N", "T": "N mm", "M_n": "N mm", "M_b": "N mm"}
_WORDS = {
    "N": "axial force",
    "V_n": "shear force toward the inside of the bend",
    "V_b": "shear force across the bend",
    "T": "torque",
    "M_n": "bending moment about n, the direction to the inside of the bend",
    "M_b": "bending moment about b = t x n",
}
_KINDS = {
    "axial": "greatest axial stress",
    "shear": "greatest shear stress in any direction (half of Tresca's)",
    "von_mises": "greatest von Mises stress",
}
_LAW = (
    "surface stress of a bent round bar by the curvature it feels, linear in the section's forces; "
    "own finite elements"
)
_STRAIGHT = "strength of materials, straight round bar"
# contributions below this share of the greatest are left out
_SLIGHT = 1e-6


class Stressed(Protocol):
    """Wire whose stress is known at any load: ``summary.wire.AlongWire``."""

    @property
    def book(self) -> Handbook:
        """What it stands beside."""
        ...

    @property
    def unit(self) -> UnitStress:
        """Stress per newton of small loads."""
        ...

    def at(self, load: float) -> WireStress:
        """Return the stress at a load, N."""
        ...


def stress(wire: Stressed, load: float, kind: str, peak: Peak) -> float:
    """Return a greatest stress at a load, MPa."""
    return told(
        peak.value,
        "formula",
        symbol={"axial": "sigma", "shear": "tau", "von_mises": "sigma_v"}[kind],
        title=f"{_KINDS[kind]}, {peak.label}",
        unit="MPa",
        source=_LAW,
        known="own method, measured",
        more=lambda: _apart(wire, wire.at(load), kind, peak, load),
    )


def per_newton(wire: Stressed, kind: str, peak: Peak) -> float:
    """Return a greatest stress per newton of small loads, MPa/N."""
    return told(
        peak.value,
        "formula",
        symbol="s_1",
        title=f"{_KINDS[kind]} per newton of small loads, {peak.label}",
        unit="MPa/N",
        source=_LAW,
        known="own method, measured",
        more=lambda: _apart(wire, wire.unit, kind, peak, None),
    )


def _apart(
    wire: Stressed, at: WireStress, kind: str, peak: Peak, load: float | None
) -> dict[str, object]:
    """Return expression, section forces and notes of a peak."""
    here = np.flatnonzero(at.s == peak.s)
    i = int(here[np.argmax(getattr(at.stress, kind)[here])])
    j = round(peak.angle / (2 * math.pi) * ANGLES) % ANGLES
    d = wire.book.d
    forces = {f: float(getattr(at.forces, f)[i]) for f in _UNITS}
    operands = {f: _force(wire, f, x, load) for f, x in forces.items()}
    nominal = _nominal(operands, d)
    every = _coefficients(wire, at.felt, i, j)
    parts = {name: _component(name, c, nominal) for name, c in every.items()}
    low, high = band(peak.near, kind)
    notes = (
        f"in {peak.label}, {peak.s:.2f} mm from the first end's cut, "
        f"{math.degrees(peak.angle):.0f} deg round the wire from the inside of the bend",
        f"curvature felt there 1/({1 / at.kappa[i]:.4g} mm)" if at.kappa[i] > 1e-9 else "straight",
        f"the wire there is '{peak.near}': against finite elements {low:+.2f} to {high:+.2f} % "
        f"({table()['source']})",
    )
    return {"expression": _equivalent(kind, parts), "operands": parts, "notes": notes}


def _force(wire: Stressed, name: str, x: float, load: float | None) -> float:
    m = wire.book.material
    of = {"L_0": wire.book.L_0, "E": m.elastic_modulus, "G": m.shear_modulus}
    operands = of if load is None else {"F": load, **of}
    return worked(
        Step(
            "solved",
            x,
            symbol=name,
            title=f"{_WORDS[name]} on the section",
            unit=_UNITS[name],
            operands=operands,
            source="statics of the centreline as drawn, 1 N"
            if load is None
            else "equilibrium of the loaded wire, the section turned back to where it is drawn",
            known="own method, measured",
        )
    )


def _coefficients(wire: Stressed, felt: Felt, i: int, j: int) -> dict[str, dict[str, float]]:
    """Return axial, hoop and shear stress at a section and angle over each nominal stress."""
    d, m = float(wire.book.d), wire.book.material
    nu = float(m.elastic_modulus) / (2 * float(m.shear_modulus)) - 1
    names = [f.name for f in fields(SectionForces)]
    forces = ("N", "V_n", "V_b")
    nominal = {n: math.pi * (d**2 / 4 if n in forces else d**3 / 32) for n in names}
    nominal["T"] = math.pi * d**3 / 16
    unit = SectionForces(*(nominal[n] * np.eye(len(names))[k] for k, n in enumerate(names)))
    copies = [i] * len(names)
    same = Felt(felt.before[:, copies], felt.after[:, copies], felt.n[copies], felt.b[copies])
    found = surface(unit, same, d, nu)
    return {
        part: dict(zip(names, (float(x) for x in getattr(found, part)[:, j]), strict=True))
        for part in ("axial", "hoop", "shear")
    }


def _nominal(forces: dict[str, float], d: float) -> dict[str, float]:
    """Return each section force over the straight bar's area or section modulus, MPa."""
    pi, size = e.name("pi"), e.name("d")
    area = e.divide(e.num(4), e.multiply(pi, e.power(size, e.num(2))))
    bent = e.divide(e.num(32), e.multiply(pi, e.power(size, e.num(3))))
    twisted = e.divide(e.num(16), e.multiply(pi, e.power(size, e.num(3))))
    over = {"N": area, "V_n": area, "V_b": area, "T": twisted, "M_n": bent, "M_b": bent}
    found = {}
    for name, force in forces.items():
        expression = e.multiply(e.name(name), over[name])
        operands = {name: force, "d": d}
        value = e.value(expression, operands)
        found[f"s_{name.replace('_', '')}"] = _named(
            value, f"nominal stress of the {_WORDS[name]}", expression, operands, _STRAIGHT
        )
    return found


def _component(name: str, coefficients: dict[str, float], nominal: dict[str, float]) -> float:
    """Return a stress component: coefficients times nominal stresses."""
    share = dict(zip(nominal, coefficients.values(), strict=True))
    most = max(abs(share[n] * x) for n, x in nominal.items())
    kept = {n: x for n, x in nominal.items() if abs(share[n] * x) > _SLIGHT * most}
    terms = [e.multiply(e.num(float(f"{share[n]:.10g}")), e.name(n)) for n in kept]
    expression = e.add(*terms) if terms else e.num(0.0)
    words = f"{name} stress on the surface"
    return _named(e.value(expression, kept), words, expression, kept, _LAW)


def _named(
    value: float, title: str, expression: Node, operands: dict[str, float], source: str
) -> float:
    return worked(
        Step(
            "formula",
            value,
            title=title,
            unit="MPa",
            expression=expression,
            operands=operands,
            source=source,
            known="own method, measured" if source == _LAW else "common practice",
        )
    )


def _equivalent(kind: str, parts: dict[str, float]) -> Node:
    """Return the equivalent stress of two normal stresses and a shear stress on the surface."""
    axial, hoop, shear = map(e.name, parts)
    if kind == "axial":
        return e.function("abs", axial)
    half, two = e.num(0.5), e.num(2)
    mean = e.multiply(half, e.add(axial, hoop))
    other = e.multiply(half, e.add(axial, e.negative(hoop)))
    radius2 = e.add(e.power(other, two), e.power(shear, two))
    if kind == "von_mises":
        return e.function("sqrt", e.add(e.power(mean, two), e.multiply(e.num(3), radius2)))
    radius = e.function("sqrt", radius2)
    third = e.multiply(half, e.add(e.function("abs", mean), radius))
    return third if e.value(third, parts) > e.value(radius, parts) else radius
