"""What ``measure`` tells of readings that are a known spring's own, beside least squares by numpy.

Readings lie on the spring's load curve beyond where its last coils part, once exactly and once with
errors of reading; in mm and N, in inches and pounds, or mixed. The line must be numpy's, the
modulus and the initial tension those the spring was made with, and the specification that is
written must give the loads that were read.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import yaml

from springgeo import Spring
from springgeo.ends import registry
from springgeo.equilibrium.contact.parting import last_parts_at
from springgeo.measure import measure, read_readings
from springgeo.measure.measured import Measured
from tests.stability.wild import Random, pick

from .compared import Compared
from .drawn import drawn

INCH, POUND = 25.4, 4.4482216152605
_PULLS = 6


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Read one spring on the bench, exactly and with errors."""
    styles = [x for x in registry.names() if x not in ("plain", "traced")]
    data = drawn(rng, styles=styles, coils=25, lengths=False)
    data["service"].pop("temperature")
    spring = Spring.from_dict(data)
    curve, tension = spring.load_curve, spring.summary().initial_tension.force
    low = max(1.02 * last_parts_at(curve), 1.2 * tension)
    high = max(spring.spec.service.loads)
    if high < 1.3 * low:
        return
    lengths = np.linspace(curve.length(low), curve.length(high), _PULLS)
    loads = np.array([curve.load(x) for x in lengths])
    exact = _measured(rng, spring, lengths, loads, (1e-5, 1e-5), folder)
    _line(told, exact, spring, lengths, loads, "exact")
    _made(told, exact, spring, lengths, loads)
    u = 2e-4 * (lengths[-1] - spring.free_length), 2e-3 * loads[-1]
    noisy = lengths + rng.normal(0, u[0], _PULLS), loads + rng.normal(0, u[1], _PULLS)
    _line(told, _measured(rng, spring, *noisy, u, folder), spring, *noisy, "with errors")


def _measured(
    rng: Random,
    spring: Spring,
    lengths: Any,
    loads: Any,
    u: tuple[float, float],
    folder: Path,
) -> Measured:
    """Write readings as somebody might, and read and measure them."""
    g, spec = spring.summary().geometry, spring.spec
    what = str(pick(rng, ("mm", "inch", "mixed")))

    def length(x: float) -> float | str:
        inch = what == "inch" or (what == "mixed" and rng.random() < 0.5)
        return f"{float(x) / INCH!r} in" if inch else float(x)

    def load(x: float) -> float | str:
        inch = what == "inch" or (what == "mixed" and rng.random() < 0.5)
        return f"{float(x) / POUND!r} lbf" if inch else f"{float(x)!r} N"

    ends = [
        e.model_dump(mode="json", exclude_none=True) for e in (spec.ends.first, spec.ends.second)
    ]
    data = {
        "wire_diameter": length(g.wire_diameter),
        "outer_diameter": length(g.outer_diameter),
        "coils": g.body_coils,
        "free_length": length(g.free_length),
        "pulls": [
            {"length": length(x), "load": load(y)} for x, y in zip(lengths, loads, strict=True)
        ],
        "hooks": ends,
        "calliper": 1e-5,
        "coils_uncertainty": 1e-5,
        "length_uncertainty": length(u[0]),
        "load_uncertainty": load(u[1]),
    }
    if what == "inch":
        data["units"] = "inch"
    path = folder / "readings.yaml"
    path.write_text(yaml.safe_dump(data), encoding="utf-8")
    return measure(read_readings(path))


def _line(
    told: Compared, found: Measured, spring: Spring, lengths: Any, loads: Any, what: str
) -> None:
    """The line told is that of least squares, its intervals those of the residuals."""
    free = spring.free_length
    rate, tension = np.polyfit(lengths - free, loads, 1)
    told.number(f"measure, {what}: rate", found.line.rate.value, rate, 1e-6)
    of = abs(loads[-1])
    told.number(f"measure, {what}: tension", found.line.tension.value, tension, 1e-6, of=of)
    told.same(f"measure, {what}: readings used", bool(found.line.used.all()), True)
    # what the spring's own curve departs from a line is no scatter
    own = np.array([spring.load_curve.load(max(x, free)) for x in lengths])
    straight = loads - (own - np.polyval(np.polyfit(lengths - free, own, 1), lengths - free))
    _, cov = np.polyfit(lengths - free, straight, 1, cov=True)
    if what != "exact" and found.line.scatter > 1:
        told.number(
            f"measure, {what}: scatter of rate", found.line.rate.u, float(np.sqrt(cov[0, 0])),
            0.02, of=1e-6 * rate,
        )  # fmt: skip


def _made(told: Compared, found: Measured, spring: Spring, lengths: Any, loads: Any) -> None:
    """Of exact readings, what follows is what the spring was made with."""
    s = spring.summary()
    told.number("measure: shear modulus", found.shear_modulus.value, s.material.shear_modulus, 5e-3)
    tension = found.specification["body"]["initial_tension"]
    told.number("measure: initial tension", tension, s.initial_tension.force, 5e-3, of=loads[-1])
    written = Spring.from_dict(
        found.specification | {"wire": {**found.specification["wire"], **_moduli(found, spring)}}
    )
    again = np.array(
        [written.load_curve.load(x + written.free_length - spring.free_length) for x in lengths]
    )
    told.array("measure: loads of the spring written", again, loads, 5e-3, of=loads[-1])


def _moduli(found: Measured, spring: Spring) -> dict[str, float]:
    m = spring.summary().material
    G = found.shear_modulus.value
    return {"shear_modulus": G, "elastic_modulus": m.elastic_modulus * G / m.shear_modulus}
