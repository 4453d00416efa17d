"""Clearances of pins, plates, studs, bores and rods beside dense sampling of both surfaces.

Wire and parts are sampled as points on their surfaces and searched by a k-d tree; a clearance told
can be no greater than the nearest pair, and no less by more than the sampling leaves open. A
swing told must be clear just before its end and meet wire just beyond.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from scipy.spatial import cKDTree

from springgeo import SpecError, Spring, State
from springgeo.curve import Path as Centreline
from springgeo.ends import registry
from springgeo.fit import fit
from springgeo.fit.model import EndFit, StateFit
from tests.stability.mating import part
from tests.stability.wild import Random

from .compared import Compared
from .drawn import drawn

Array = npt.NDArray[np.float64]
# how far apart points of the wire's middle line are, in wire diameters; points of a part
_STEP, _PART = 0.02, 90_000


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Mount one spring, and measure every clearance of three states."""
    styles = [x for x in registry.names() if x not in ("plain", "traced")]
    data = drawn(rng, styles=styles, coils=10, lengths=bool(rng.random() < 0.3))
    spring = Spring.from_dict(data)
    g = spring.summary().geometry
    inside = 2 * (g.loop_radius_first or g.mean_diameter / 2) - g.wire_diameter
    mating: dict[str, Any] = {
        s: _part(rng, inside, g.wire_diameter) for s in ("first", "second") if rng.random() < 0.9
    }
    around = {}
    if rng.random() < 0.4:
        around["bore"] = {"diameter": g.outer_diameter * float(rng.uniform(1.0, 1.4))}
    if rng.random() < 0.4:
        rod = {"diameter": g.inner_diameter * float(rng.uniform(0.4, 1.0))}
        if rng.random() < 0.5:
            rod["length"] = g.free_length * float(rng.uniform(0.3, 1.2))
        around["rod"] = rod
    mating["around"] = around
    try:
        spring = spring.with_({"mating": mating})
    except SpecError:  # a groove wider than its stud
        return
    found = fit(spring, states=3)
    for at in found.states:
        told.number(
            "fit: load at the length", at.load, spring.load_curve.load(at.length), 1e-6,
            of=1e-3 * max((p.load for p in spring.summary().points), default=1.0),
        )  # fmt: skip
        state = spring.free if at.load == 0 else spring.at(length=at.length)
        if not _straight(spring):
            continue
        _state(told, spring, state, at, mating)


def _part(rng: Random, inside: float, d: float) -> dict[str, Any]:
    """Return any part, or one that the hook has room for."""
    if rng.random() < 0.4:
        return part(rng, 0.8 * inside)
    if rng.random() < 0.5:
        hole = d * float(rng.uniform(1.1, 2))
        web = inside * float(rng.uniform(0.05, 0.4))
        thick = inside * float(rng.uniform(0.05, 0.4))
        return {
            "plate": {"hole_diameter": hole, "thickness": thick, "edge_distance": hole / 2 + web}
        }
    groove, width = inside * float(rng.uniform(0.2, 0.7)), d * float(rng.uniform(1.05, 2))
    size = {"diameter": groove * float(rng.uniform(1.1, 1.5)), "groove_diameter": groove}
    return {"stud": {**size, "groove_width": width, "length": width + d * float(rng.uniform(1, 4))}}


def _straight(spring: Spring) -> bool:
    return spring.along_the_wire.book.place is None


def _wire(path: Centreline, low: float, high: float, d: float) -> Array:
    return path.point(np.linspace(low, high, max(200, math.ceil((high - low) / (_STEP * d)))))


def _state(
    told: Compared, spring: Spring, state: State, at: StateFit, mating: dict[str, Any]
) -> None:
    g, path = state.geometry, state.centreline
    d, L = g.wire_diameter, path.length
    # ends keep their lengths in a state but for the stretch of the wire
    stretch = L / spring.centreline.length
    a, b = spring.free.geometry.first.length * stretch, L - g.second.length * stretch
    parts = {"first": (0.0, a), "second": (b, L)}
    for side, (low, high) in parts.items():
        end: EndFit | None = getattr(at, side)
        given = mating.get(side)
        if end is None or given is None or g.contact_s[side == "second"] is None:
            continue
        shape = _Seated(end, given, g.contacts[side == "second"])
        for name, told_gap, span in (
            ("hook", end.hook, (low, high)),
            ("body", end.neighbour, (a, b)),
        ):
            wire = _wire(path, *span, d)
            own = shape.nearest(wire) - d / 2
            what = f"fit: {end.part} to {name}"
            _near(told, what, told_gap.distance, own, d)
            there = path.point(np.array([told_gap.s]))
            inner = min(told_gap.s, L - told_gap.s) > d
            if inner and own > 0:
                here = shape.nearest(there) - d / 2
                _near(told, f"{what}, at its place", told_gap.distance, here, d)
        _swing(told, spring, state, end, given, side)
    whole = _wire(path, 0.0, L, d)
    bore, rod = mating["around"].get("bore"), mating["around"].get("rod")
    if bore is not None and at.bore is not None:
        out = np.hypot(whole[:, 0], whole[:, 1]).max() + d / 2
        _near(told, "fit: bore", at.bore.distance, bore["diameter"] / 2 - out, d, flat=0.2)
    if rod is not None and at.rod is not None and "length" not in rod:
        wire = _wire(path, a, b, d)
        out = np.hypot(wire[:, 0], wire[:, 1]).min() - d / 2
        _near(told, "fit: rod", at.rod.distance, out - rod["diameter"] / 2, d, flat=0.2)


def _near(told: Compared, what: str, gap: float, own: float, d: float, flat: float = 0.02) -> None:
    """Compare clearances; where parts overlap, that both say so."""
    if own < -0.02 * d or gap < -0.02 * d:
        told.same(f"{what}: overlaps", gap < 0.02 * d and own < 0.02 * d, True)
        return
    told.number(what, gap, own, flat, of=d)


class _Seated:
    """A part where it is told to sit, as points on its surface; overlaps by its own distance."""

    def __init__(self, end: EndFit, given: dict[str, Any], contact: Array) -> None:
        self.centre, self.axis = np.array(end.seat), np.array(end.direction)
        self.kind, self.given = end.part, given[end.part]
        other = np.eye(3)[int(np.argmin(np.abs(self.axis)))]
        across = np.cross(self.axis, other)
        self.u = across / np.linalg.norm(across)
        if self.kind == "plate":  # its sides lie along the line to the contact
            to = contact - self.centre
            to = to - self.axis * (to @ self.axis)
            self.u = to / np.linalg.norm(to)
        self.v = np.cross(self.axis, self.u)

    def nearest(self, points: Array) -> float:
        """Return the least distance of points ``(n, 3)`` from the part; negative within it."""
        off = points - self.centre
        x, y, z = off @ self.axis, off @ self.u, off @ self.v
        return float(self._signed(x, y, z).min())

    def _signed(self, x: Array, y: Array, z: Array) -> Array:
        p = self.given
        out = np.hypot(y, z)
        if self.kind == "pin":
            return _box(out - p["diameter"] / 2, np.abs(x) - p["length"] / 2)
        if self.kind == "stud":
            rod = _box(out - p["groove_diameter"] / 2, np.abs(x) - p["length"] / 2)
            inner = np.maximum(p["groove_width"] / 2 - np.abs(x), np.abs(x) - p["length"] / 2)
            return np.minimum(rod, _box(out - p["diameter"] / 2, inner))
        edge = np.maximum(np.abs(y), np.abs(z)) - p["edge_distance"]
        hole = p["hole_diameter"] / 2 - out
        within = np.maximum(np.maximum(edge, hole), np.abs(x) - p["thickness"] / 2)
        return np.where(within <= 0, within, self._sampled(x, y, z))

    def _sampled(self, x: Array, y: Array, z: Array) -> Array:
        """Return distances from points on the faces, the edges and the hole of a plate."""
        p = self.given
        e, r, t = p["edge_distance"], p["hole_diameter"] / 2, p["thickness"] / 2
        n = int(math.sqrt(_PART / 2))
        side = np.linspace(-e, e, n)
        y_, z_ = (m.ravel() for m in np.meshgrid(side, side))
        solid = np.hypot(y_, z_) >= r
        faces = [
            np.column_stack([np.full(solid.sum(), k * t), y_[solid], z_[solid]]) for k in (-1, 1)
        ]
        turn, depth = (
            m.ravel()
            for m in np.meshgrid(np.linspace(0, 2 * math.pi, 4 * n), np.linspace(-t, t, 31))
        )
        faces.append(np.column_stack([depth, r * np.cos(turn), r * np.sin(turn)]))
        long, deep = (m.ravel() for m in np.meshgrid(side, np.linspace(-t, t, 31)))
        for k in (-e, e):
            faces.append(np.column_stack([deep, np.full(len(deep), k), long]))
            faces.append(np.column_stack([deep, long, np.full(len(deep), k)]))
        tree = cKDTree(np.concatenate(faces))
        return np.asarray(tree.query(np.column_stack([x, y, z]))[0])


def _box(profile: Array, face: Array) -> Array:
    """Return the distance of a profile drawn out between faces; negative within."""
    outside = np.hypot(np.maximum(profile, 0), np.maximum(face, 0))
    return np.where((profile < 0) & (face < 0), np.maximum(profile, face), outside)


def _swing(
    told: Compared, spring: Spring, state: State, end: EndFit, given: dict[str, Any], side: str
) -> None:
    """Tilt the part out of its seat about the wire: clear before the angle told, not after."""
    if end.swing_across is None or end.part != "pin":
        return
    g = state.geometry
    d, k = g.wire_diameter, side == "second"
    s = g.contact_s[k]
    assert s is not None
    middle = state.centreline.point(np.array([s]))[0]
    axis, seat = np.array(end.direction), np.array(end.seat)
    along = state.centreline.tangent(np.array([s]))[0]
    if abs(float(along @ axis)) > 1e-6:
        return
    # the end, and a coil and a half beside it
    L = state.centreline.length
    own = g.second.length if k else g.first.length
    beside = min(1.5, g.turns) * 2 * math.pi * g.coil_radius
    low, high = (L - own - beside, L) if k else (0.0, own + beside)
    wire = _wire(state.centreline, low, high, d)
    radius, length = given["pin"]["diameter"] / 2, given["pin"]["length"]
    away = seat - middle

    def clear(angle: float) -> float:
        turn = _about(along, angle)
        off = wire - (middle + turn @ away)
        x = off @ (turn @ axis)
        out = np.linalg.norm(off - x[:, None] * (turn @ axis), axis=1)
        return float(_box(out - radius, np.abs(x) - length / 2).min()) - d / 2

    if clear(0.0) < -2e-3 * d:
        return
    first = [float(np.radians(abs(x))) for x in end.swing_across]
    both = sorted(_reach(clear, sign, d) for sign in (-1.0, 1.0))
    off = math.degrees(max(abs(x - y) for x, y in zip(sorted(first), both, strict=True)))
    told.number("fit: swing across, deg", off, 0.0, 1.5, of=1.0)


def _reach(clear: Any, sign: float, d: float) -> float:
    """Return the angle, rad, at which wire is first met, to a quarter of a degree."""
    angle = 0.0
    step = math.radians(0.25)
    while angle < math.pi / 2 - 1e-9 and clear(sign * (angle + step)) >= -2e-3 * d:
        angle += step
    return angle


def _about(axis: Array, angle: float) -> Array:
    """Return the rotation about an axis ``(3, 3)`` (Rodrigues)."""
    k = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    return np.eye(3) + math.sin(angle) * k + (1 - math.cos(angle)) * (k @ k)
