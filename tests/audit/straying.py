"""What ``tolerance`` tells of spreads beside single springs, each made with one dimension off.

Mean and deviation of every answer are found anew: Gauss points over each thing that strays, at each
a spring of its own from the specification with that value changed, asked for what it is by the
summary alone; spread over the things added up by their variances. Where loads lie in the knee that
is no sum: there the tool must say that it is off.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np

from springgeo import Spring, SpringgeoError
from springgeo.results.tolerance import Spread, Tolerance, Toleranced
from tests.stability.wild import Random, pick

from .compared import Compared
from .drawn import drawn

# half widths and weights of three Gauss points: of a uniform distribution, and of a normal one
# whose three deviations are the half width; that is cut there, which takes 1.35 % off
_UNIFORM = (math.sqrt(0.6), (5 / 18, 8 / 18, 5 / 18))
_NORMAL = (math.sqrt(3) / 3 * 0.98658, (1 / 6, 4 / 6, 1 / 6))
_SPRINGS = 1 << 15
# per cent by which springs may lie off their equilibrium without a word
_OFF = 2.0


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Ask how one spring comes out, and what each dimension does to it."""
    data = drawn(rng, coils=14)
    spring = Spring.from_dict(data)
    asked = _tolerances(rng, data, spring)
    try:
        found = spring.tolerance(asked, springs=_SPRINGS, seed=3)
    except SpringgeoError as exc:
        if any(x in str(exc) for x in ("no-initial-tension", "no-such-end", "nothing-to-meet")):
            return
        raise
    _counted(told, found)
    _nominal(told, found, spring)
    own = _Own(spring, found, asked)
    for x in found.spreads:
        _spread(told, own, x, found)


def _tolerances(rng: Random, data: dict[str, Any], spring: Spring) -> dict[str, Any]:
    """Return small tolerances, so that a spread is the sum of what each dimension does."""
    d = spring.summary().geometry.wire_diameter
    asked: dict[str, Any] = {
        "wire_diameter": float(rng.uniform(0.002, 0.006)) * d,
        "coil_diameter": float(rng.uniform(0.01, 0.05)) * d,
        "coils": float(rng.uniform(0.01, 0.05)),
        "shear_modulus": f"{rng.uniform(0.3, 1.5):.3f} %",
        "adjusts": "none",
        "distribution": str(pick(rng, ("normal", "uniform"))),
    }
    if spring.summary().initial_tension.force > 0:
        asked["initial_tension"] = f"{rng.uniform(0.5, 3):.3f} %"
    length = "hook_length" if rng.random() < 0.4 else "free_length"
    asked[length] = float(rng.uniform(0.01, 0.1)) * d
    if rng.random() < 0.3:
        asked["tensile_strength"] = "3 %"
    if rng.random() < 0.3:
        asked["loads"] = "4 %"
    return asked


def _counted(told: Compared, found: Tolerance) -> None:
    """Shares and limits told are those of the springs counted."""
    for x in found.spreads:
        counted = sum(x.histogram.counts)
        told.same("tolerance: springs counted", counted, found.springs - found.impossible)
        told.same(
            "tolerance: nominal within", x.low <= x.nominal <= x.high or x.off_percent > 0, True
        )
        if x.limit_low is None or x.limit_high is None or x.inside is None:
            continue
        edges, counts = np.array(x.histogram.edges), np.array(x.histogram.counts, float)
        if len(edges) < 3:
            continue
        cumulated = np.concatenate([[0.0], np.cumsum(counts)])
        low, high = np.interp([x.limit_low, x.limit_high], edges, cumulated)
        told.number("tolerance: share inside", x.inside, (high - low) / found.springs, 0.01, of=1.0)
        told.same("tolerance: none is better inside", found.inside <= x.inside + 1e-12, True)


def _nominal(told: Compared, found: Tolerance, spring: Spring) -> None:
    s = spring.summary()
    for x in found.spreads:
        told.number(f"tolerance: nominal {x.quantity}", x.nominal, _answer(s, x, 0.0), 1e-6)


def _answer(s: Any, x: Spread, longer: float, points: Any = None) -> float:
    """Return what the summary says of an answer; a length by ``longer``."""
    points = points or s.points
    if x.quantity == "free_length":
        return float(s.free_length.model) + longer
    if x.quantity == "rate":
        between = s.rates.between_points
        return float(s.along_the_wire.rate if between is None else between)
    if x.quantity == "fatigue_factor":
        way = s.fatigue.handbook if x.way == "handbook" else s.fatigue.along_the_wire
        return float(way[x.place or ""].factor)
    if x.quantity == "margin":
        last = (s.points if x.way == "handbook" else s.along_the_wire.points)[-1]
        return float(getattr(last.margin, x.place or ""))
    p = s.points[(x.number or 1) - 1]
    return float(p.load if x.quantity == "load" else p.length + longer)


class _Own:
    """Springs with one value changed, each from its own specification."""

    def __init__(self, spring: Spring, found: Tolerance, asked: dict[str, Any]) -> None:
        self.spring, self.found, self.asked = spring, found, asked
        s = spring.summary()
        self.s, self.lengths = s, [p.length for p in s.points]
        self.loads = [p.load for p in s.points]
        self.by_length = [p.length in spring.spec.service.lengths for p in s.points]
        self._kept: dict[tuple[str, float], dict[int, float]] = {}

    def of(self, stray: Toleranced, off: float) -> dict[int, float]:
        """Return every answer by its number, of the spring off by so much; nan where none is."""
        key = (stray.name, off)
        if key not in self._kept:
            self._kept[key] = self._answers(stray, off)
        return self._kept[key]

    def _answers(self, stray: Toleranced, off: float) -> dict[int, float]:
        changed, longer, strong = self._changed(stray, off)
        plain = self.spring.with_(changed)
        g, was = plain.summary().geometry, self.s.geometry
        if "hook_length" in self.asked:
            longer += g.body_length - was.body_length
        # the hooks stand by so much further apart than the body drawn has them
        away = plain.free_length - (self.spring.free_length + longer)
        return {
            n: self._one(plain, x, away, longer, strong) for n, x in enumerate(self.found.spreads)
        }

    def _changed(self, x: Toleranced, off: float) -> tuple[dict[str, Any], float, float]:
        """Return changed values, by how much it is longer, and by how much stronger."""
        s, spec = self.s, self.spring.spec
        g, G = s.geometry, s.material.shear_modulus
        at = self.spring.model.material.modulus_share(spec.service.temperature)
        fixed: dict[str, Any] = {
            "body.coils": g.body_coils,
            "ends.angle": None,
            "ends.facing": None,
        }
        strong = self.spring.model.material.strength_share(spec.service.temperature) or 1.0
        fixed["wire.tensile_strength"] = s.material.tensile_strength / min(strong, 1.0)
        if s.initial_tension.force > 0:
            fixed["body.initial_tension"] = s.initial_tension.force
        ruled = next(
            (k for k in ("outer_diameter", "inner_diameter") if getattr(spec.body, k, None)), None
        )
        fixed[f"body.{ruled or 'mean_diameter'}"] = getattr(g, ruled or "mean_diameter")
        if x.name == "wire_diameter":
            return fixed | {"wire.diameter": g.wire_diameter + off}, 0.0, 1.0
        if x.name.endswith("_diameter"):
            return fixed | {f"body.{x.name}": getattr(g, x.name) + off}, 0.0, 1.0
        if x.name == "coils":
            return fixed | {"body.coils": g.body_coils + off}, 0.0, 1.0
        if x.name == "initial_tension":
            return fixed | {"body.initial_tension": s.initial_tension.force + off}, 0.0, 1.0
        if x.name == "shear_modulus":
            more = (G + off) / at
            E = s.material.elastic_modulus * (1 + off / G) / at
            return fixed | {"wire.shear_modulus": more, "wire.elastic_modulus": E}, 0.0, 1.0
        if x.name == "tensile_strength":
            return fixed, 0.0, 1 + off / s.material.tensile_strength
        return fixed, off, 1.0

    def _one(self, plain: Spring, x: Spread, away: float, longer: float, strong: float) -> float:
        curve, q = plain.load_curve, x.quantity

        def load(n: int) -> float:
            return curve.load(max(self.lengths[n] + away, curve.free_length))

        if q == "free_length":
            return self.spring.free_length + longer
        if q == "rate":
            above = [n for n, p in enumerate(self.loads) if p > self.s.initial_tension.force]
            if len(above) > 1 and self.lengths[above[-1]] > self.lengths[above[0]]:
                apart = self.lengths[above[-1]] - self.lengths[above[0]]
                return (load(above[-1]) - load(above[0])) / apart
            return float(plain.along_the_wire.rate)
        n = len(self.loads) - 1 if x.number is None else x.number - 1
        if q == "load":
            return load(n)
        if q == "length":
            return curve.length(self.loads[n]) - away
        tops = [load(i) if by else self.loads[i] for i, by in enumerate(self.by_length)]
        if q == "margin":
            return strong * self._margin(plain, x, tops[n])
        given = {"service.loads": tops, "service.lengths": None}
        if strong != 1.0:
            at = plain.spec.wire.tensile_strength or self.s.material.tensile_strength
            given["wire.tensile_strength"] = strong * at
        return _answer(plain.with_(given).summary(), x, 0.0)

    def _margin(self, plain: Spring, x: Spread, load: float) -> float:
        """Return the margin with the strength of the nominal wire."""
        book = plain.along_the_wire.book
        p = book.point(load, 1.0) if x.way == "handbook" else plain.along_the_wire.point(load)
        was = self.s.points[-1].allowable
        name = x.place or ""
        return float(getattr(was, name)) / float(getattr(p, name))


def _spread(told: Compared, own: _Own, x: Spread, found: Tolerance) -> None:
    """Compare mean and deviation with those of Gauss points."""
    if x.off_percent > _OFF:  # through the knee a spread is no sum, and the tool says so itself
        codes = [f.code for f in found.findings]
        told.same("tolerance: told that it is off", "correction-off" in codes, True)
        return
    at = found.spreads.index(x)
    node, weights = _UNIFORM if found.distribution == "uniform" else _NORMAL
    variance, mean = 0.0, x.nominal
    for stray in found.strays:
        if not (stray.low or stray.high):
            continue
        half = (stray.high - stray.low) / 2
        try:
            ends = [own.of(stray, sign * node * half)[at] for sign in (-1.0, 1.0)]
        except SpringgeoError:
            return
        y = np.array([ends[0], x.nominal, ends[1]])
        middle = float(np.dot(weights, y))
        mean += middle - x.nominal
        variance += float(np.dot(weights, (y - middle) ** 2))
    if math.isnan(variance):
        return
    deviation = math.sqrt(variance)
    knee = _in_the_knee(own, x)
    what = f"{x.quantity}{', ' + str(x.way) if x.way else ''}{', in the knee' if knee else ''}"
    told.number(
        f"tolerance: deviation of {what}", x.deviation, deviation, 0.04, of=1e-4 * x.nominal
    )
    told.number(
        f"tolerance: mean of {what}, of its deviation",
        (x.mean - mean) / max(deviation, 1e-4 * x.nominal), 0.0, 0.1, of=1.0,
    )  # fmt: skip


def _in_the_knee(own: _Own, x: Spread) -> bool:
    tension = own.s.initial_tension.force
    return x.load is not None and tension > 0 and x.load < 1.6 * tension
