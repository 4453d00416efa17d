"""Pitch and hand of the coils: turned back along the right helix, all coils lie on each other."""

from __future__ import annotations

import numpy as np

from springgeo.curve.frame import Array
from springgeo.recovery.coiled.axis import Axis
from springgeo.recovery.coiled.helix import HelixTube

_LOOKED_AT = 4000
# cells of the folded half-plane, in phase and in distance from the axis
_CELLS = 20, 16
# steps of pitch: so much of a coil at the far end
_STEP = 0.12
# shares of the pitch that the wire's radius may have
_SLIMMEST, _THICKEST = 0.15, 0.51


def folded(points: Array, axis: Axis, rng: np.random.Generator, most: int) -> list[HelixTube]:
    """Return likely helices about ``axis``: along each, the points lie on one another.

    At the right pitch p and hand h, the distance from the axis depends on the phase
    z/p − hθ/2π alone: there the two tell most of each other (mutual information).
    """
    some = points[rng.permutation(len(points))[:_LOOKED_AT]]
    x, y, z = axis.local(some).T
    rho, turn = np.hypot(x, y), np.arctan2(y, x) / (2 * np.pi)
    near = np.abs(rho - axis.radius) < 0.45 * axis.radius
    rho, turn, z = rho[near], turn[near], z[near]
    if len(rho) < 50:
        return []
    span = float(np.ptp(np.quantile(z, [0.03, 0.97])))
    if not span > 0.02 * axis.radius:
        return []
    low, high = np.quantile(rho, [0.01, 0.99])
    ring = np.clip((rho - low) / (high - low) * _CELLS[1], 0, _CELLS[1] - 1).astype(np.intp)
    rates = np.arange(max(1.2 / span, 0.35 / axis.radius), 18 / axis.radius, _STEP / span)
    if not len(rates):
        return []
    found = []
    for hand in (1, -1):
        told = np.array([_told(rate * z - hand * turn, ring) for rate in rates.tolist()])
        found += [(float(told[k]), float(rates[k]), hand) for k in _peaks(told, most)]
    found.sort(reverse=True)
    tubes = []
    # seen from one side, several coils may pass for one
    multiples = [(k * rate, hand) for _, rate, hand in found[:most] for k in (1, 2, 3)]
    for rate, hand in _different(multiples, 2 * _STEP / span):
        if rate > rates[-1]:
            continue
        fine = rate + _STEP / span * np.linspace(-1, 1, 13)
        scores = [_told(f * z - hand * turn, ring) for f in fine.tolist()]
        rate = float(fine[int(np.argmax(scores))])
        tubes.append(_ring(axis, rho, rate * z - hand * turn, 1 / rate, hand))
    return tubes


def _different(pairs: list[tuple[float, int]], apart: float) -> list[tuple[float, int]]:
    kept: list[tuple[float, int]] = []
    for rate, hand in pairs:
        if all(hand != h or abs(rate - r) > apart for r, h in kept):
            kept.append((rate, hand))
    return kept


def _peaks(told: Array, most: int) -> list[int]:
    """Return the highest places that stand out of their surroundings."""
    chosen: list[int] = []
    for k in np.argsort(-told).tolist():
        if all(abs(k - j) > 6 for j in chosen):
            chosen.append(k)
            if len(chosen) == most:
                break
    return chosen


def _told(phase: Array, ring: np.ndarray[tuple[int], np.dtype[np.intp]]) -> float:
    """Return the mutual information of phase and distance, in nats, over ``n`` points."""
    rows = ((phase - np.floor(phase)) * _CELLS[0]).astype(np.intp)
    rows[rows == _CELLS[0]] = 0
    count = np.bincount(rows * _CELLS[1] + ring, minlength=_CELLS[0] * _CELLS[1])
    table = count.reshape(_CELLS) / len(phase)
    alone = np.outer(table.sum(axis=1), table.sum(axis=0))
    full = table > 0
    return float(np.sum(table[full] * np.log(table[full] / alone[full])))


def _ring(axis: Axis, rho: Array, phase: Array, pitch: float, hand: int) -> HelixTube:
    """Return the circle of wire that most points lie on in the folded half-plane.

    The section of the coil by that plane is an ellipse, longer along the axis by 1/cos α.
    """
    low, high = np.quantile(rho, [0.02, 0.98])
    wires = np.linspace(_SLIMMEST, _THICKEST, 12) * pitch
    some = slice(None, None, max(1, len(rho) // 500))
    rho, phase = rho[some], phase[some]
    slope = np.hypot(1.0, pitch / (2 * np.pi * axis.radius))
    best = (-9.0, 0.0, 0.0, 0.0)
    radii = np.arange(max(low - pitch / 4, pitch / 2), high, max(pitch / 12, (high - low) / 20))
    # in single precision: a place on a grid is chosen
    wire_of, apart = wires[:, None].astype(np.float32), (rho - radii[:, None]).astype(np.float32)
    for height in np.linspace(0, 1, 16, endpoint=False).tolist():
        w = (((phase - height + 0.5) % 1.0 - 0.5) * (pitch / slope)).astype(np.float32)
        for radius, beside in zip(radii.tolist(), apart, strict=True):
            off = (np.hypot(w, beside) - wire_of) / (np.float32(0.2) * wire_of)
            on = np.exp(-(off * off)).mean(axis=1) - 0.7 * (off < -2.0).mean(axis=1)
            k = int(np.argmax(on))
            if on[k] > best[0]:
                best = (float(on[k]), height * pitch, radius, float(wires[k]))
    _, height, radius, wire = best
    origin = axis.origin + axis.frame[:, 2] * height
    return HelixTube(axis.frame, origin, radius, pitch, wire, hand)
