"""The spring behind the readings: dimensions, load line, modulus, likely wire, specification."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from springgeo import materials
from springgeo.api import Spring
from springgeo.errors import refused
from springgeo.findings import Finding, by_severity, note
from springgeo.measure.behind import Behind, behind
from springgeo.measure.line_fit import Interval, Line, fit_line, normal
from springgeo.measure.readings import Readings
from springgeo.measure.signs import signs
from springgeo.text import quantity as q
from springgeo.text.shown import said

# wire that the handbook calculation starts from; the modulus is corrected from there
TRIAL = "astm-a228"


@dataclass(frozen=True)
class Likely:
    """A material whose shear modulus fits: how many standard uncertainties it is off."""

    material: str
    shear_modulus: float
    off: float


class Sizes(NamedTuple):
    """What the modulus follows from beside the rate: mm, and body coils."""

    wire: Interval
    outside: Interval
    mean: Interval
    coils: Interval


@dataclass(frozen=True)
class Measured:
    """What the readings amount to; mm, N, N/mm, MPa. ``dimensions`` by name.

    ``line`` is that of the readings, ``tension`` the initial tension of a spring that has it.
    """

    name: str
    dimensions: dict[str, Interval]
    line: Line
    tension: Interval
    shear_modulus: Interval
    likely: tuple[Likely, ...]
    specification: dict[str, Any]
    findings: tuple[Finding, ...]


def measure(r: Readings, confidence: float = 0.95) -> Measured:
    """Return the spring behind the readings.

    Shear modulus and initial tension are those of a spring of the same dimensions whose loads, at
    the lengths read, lie on the same line.

    Raises
    ------
    SpecError
        Too few readings above the knee, or no spring has these dimensions.
    """
    z = normal(confidence)
    d, outside = (_mean(x, r.calliper, z) for x in (r.wire_diameter, r.outer_diameter))
    u_D = float(np.hypot(outside.u, d.u))
    D = _interval(outside.value - d.value, u_D, z)
    free = _mean(r.free_length, r.length_uncertainty, z)
    N = _interval(r.coils, r.coils_uncertainty, z)
    length, load = (np.array([getattr(p, k) for p in r.pulls]) for k in ("length", "load"))
    known = (free.value, free.u), (r.length_uncertainty, r.load_uncertainty), confidence
    line = fit_line(length, load, *known)
    _require_run(r, line, free)
    trial = _specification(r, (d, D), line.tension.value, r.material or TRIAL, float(load.max()))
    spring = Spring.from_dict(trial)
    own = behind(spring, line, length[line.used] - free.value)
    # what a sound spring bends by is no scatter of readings, and no sign of wear
    straight = load.copy()
    straight[line.used] -= own.departure
    line = fit_line(length, straight, *known)
    G = _modulus(spring, own, line, Sizes(d, outside, D, N), z)
    likely = _likely(d.value, G)
    material = r.material or (likely[0].material if likely else TRIAL)
    tension = _moved(line.tension, own.tension)
    data = _specification(r, (d, D), tension.value, material, float(load.max()))
    body = None if r.body_length is None else _mean(r.body_length, r.calliper, z)
    summary = Spring.from_dict(data).summary()
    found = [f for f in summary.findings if f.severity != "note"]
    dimensions = {"wire diameter": d, "mean diameter": D, "body coils": N, "free length": free}
    read = () if r.run is None else r.run.findings
    told = [*signs(summary, line, free, body, G, likely != ()), *read, *_unused(line, free)]
    findings = by_severity([*told, *found])
    return Measured(r.name, dimensions, line, tension, G, likely, data, findings)


def _require_run(r: Readings, line: Line, free: Interval) -> None:
    """Raise SpecError where a bench was run and none of its readings can be used."""
    run = r.run
    if run is None or line.used[len(r.pulls) - run.pulls :].any():
        return
    text = said(
        "none of its readings lies above the free length of {free} (the longest is {longest}); "
        "give their units with --units LENGTH,FORCE, or with --columns extension=NAME,load=NAME "
        "say that lengths count from the free one",
        **q.lengths(5, free=free.value, longest=run.longest),
    )
    raise refused("bench-not-used", run.name, text)


def _unused(line: Line, free: Interval) -> Iterator[Finding]:
    left = int((~line.used).sum())
    if left:
        text = said(
            "{left} of {all} readings are not above the free length of {free} by more than their "
            "uncertainty, and were not used for the line",
            left=left,
            all=len(line.used),
            free=q.length(free.value, 5),
        )
        yield note("readings-below-knee", "pulls", text)


def _mean(readings: tuple[float, ...], u: float, z: float) -> Interval:
    """Return the mean; its uncertainty by the instrument, or by the scatter if that is more."""
    n = len(readings)
    scatter = float(np.std(readings, ddof=1)) if n > 1 else 0.0
    return _interval(float(np.mean(readings)), max(u, scatter) / np.sqrt(n), z)


def _interval(value: float, u: float, z: float) -> Interval:
    return Interval(value, float(u), float(value - z * u), float(value + z * u))


def _specification(
    r: Readings,
    sizes: tuple[Interval, Interval],
    tension: float,
    material: str | dict[str, object],
    highest: float,
) -> dict[str, object]:
    d, D = sizes
    ends = [{"style": h.style, **h.parameters} for h in r.hooks]
    return {
        "name": r.name,
        "wire": {"material": material, "diameter": round(d.value, 5)},
        "body": {
            "mean_diameter": round(D.value, 5),
            "coils": r.coils,
            "initial_tension": round(max(tension, 0.0), 5),
        },
        "ends": {"first": ends[0], "second": ends[1]},
        "service": {"loads": [highest]},
    }


def _moved(x: Interval, to: float) -> Interval:
    """Return an interval as wide about another value."""
    return Interval(to, x.u, to + x.low - x.value, to + x.high - x.value)


def _modulus(spring: Spring, own: Behind, line: Line, sizes: Sizes, z: float) -> Interval:
    """Return G = G_trial k/k_trial; the uncertainty follows G = 8 D^3 N_a k/d^4.

    The mean diameter is the outside less the wire, so a wire read too thick counts twice: by d^4
    and by D^3 (ISO Guide 98-3, cl. 5.2, correlated inputs). Known: derived.
    """
    summary = spring.summary()
    d, D = sizes.wire, sizes.mean.value
    value = summary.material.shear_modulus * own.stiffer
    shares = (
        4 * d.u / d.value + 3 * d.u / D,
        3 * sizes.outside.u / D,
        sizes.coils.u / summary.active_coils,
        line.rate.u / line.rate.value,
    )
    return _interval(value, value * float(np.sqrt(sum(s * s for s in shares))), z)


def _likely(d: float, G: Interval) -> tuple[Likely, ...]:
    """Return materials that exist at this size with a modulus within two uncertainties, or 2 %.

    Published moduli of one wire differ by some two per cent.
    """
    found = []
    for name in materials.names():
        m = materials.get(name)
        if not np.isfinite(m.tensile_minimum(d)):
            continue
        value = float(m.shear_modulus(d))
        off = abs(value - G.value) / float(np.hypot(G.u, 0.01 * value))
        if off <= 2.0:
            found.append(Likely(name, value, off))
    return tuple(sorted(found, key=lambda x: (x.off, x.material)))
