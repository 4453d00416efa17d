"""Stress for the view: per newton at every corner of every ring of the drawn wire."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path
from springgeo.curve.frame import Array, unit
from springgeo.mesh import frames
from springgeo.results.summary import Stresses
from springgeo.statics import WireStress
from springgeo.statics.regions import REGIONS
from springgeo.statics.section import ANGLES, everywhere, surface
from springgeo.summary.wire import PLACES, SEARCHED
from springgeo.text.shown import word

# what the wire can be painted with, as a share of the allowable
KINDS = {"judged": word("what decides"), "shear": word("shear"), "axial": word("bending")}
# stresses, MPa, that can be read at any place
STRESSES = {"axial": word("bending"), "shear": word("shear"), "von_mises": word("von Mises")}
_BODY = REGIONS.index("body")


@dataclass(frozen=True, eq=False)
class Paint:
    """Stress and its share of the allowable, per newton, at rings of the free spring.

    Attributes
    ----------
    greatest : dict of stress to (n,) float, MPa/N
        Round the section; zero in the wire beyond the contacts, which carries nothing.
    use : dict of kind to (n,) float, 1/N
        Greatest share of the allowable round the section.
    corners : dict of kind to (n, around) float, 1/N
        At the corners of each ring, counted as ``springgeo.mesh`` does. The greatest of a ring is
        its ``use``, though the peak lies between two corners.
    wound : (n,) bool
        Wire of the body: below the initial tension it keeps the stress of that.
    """

    greatest: dict[str, Array]
    use: dict[str, Array]
    corners: dict[str, Array]
    wound: npt.NDArray[np.bool_]


def paint(
    unit_stress: WireStress,
    path: Path,
    diameter: float,
    nu: float,
    s: Array,
    around: int,
    allowable: Stresses,
) -> Paint:
    """Return what to paint at rings ``s`` ``(n,) float, mm`` of the free wire.

    Parameters
    ----------
    unit_stress : WireStress
        Per newton.
    path : Path
        The free wire.
    diameter : float, mm
    nu : float
        Poisson's ratio.
    s : (n,) float, mm
    around : int
        Corners of a ring.
    allowable : Stresses, MPa
    """
    w = unit_stress
    held = (s >= w.s[0] - 1e-9) & (s <= w.s[-1] + 1e-9)
    greatest = {
        name: np.where(held, np.interp(s, w.s, getattr(w.stress, name)), 0.0) for name in STRESSES
    }
    limits = shares(w, allowable)
    axial, tresca, _ = everywhere(surface(w.forces, w.felt, diameter, nu))
    fields = {
        "axial": limits["axial"][:, None] * axial,
        "shear": limits["shear"][:, None] * tresca,
        "judged": np.maximum(
            limits["judged axial"][:, None] * axial, limits["judged shear"][:, None] * tresca
        ),
    }
    i, share = _between(w.s, s)
    angle = _corner_angles(w, path, s, i, share, around)
    judged = judged_share(w, allowable)
    exact = {
        "axial": limits["axial"] * w.stress.axial,
        "shear": limits["shear"] * w.stress.shear,
        "judged": judged,
    }
    use = {kind: np.where(held, np.interp(s, w.s, exact[kind]), 0.0) for kind in KINDS}
    corners = {}
    for kind in KINDS:
        mixed = np.where(held[:, None], _mixed(fields[kind], i, share, angle), 0.0)
        most = mixed.max(axis=1)
        corners[kind] = mixed * (use[kind] / np.where(most > 0, most, 1.0))[:, None]
    nearest = np.where(share < 0.5, i, i + 1)
    return Paint(greatest, use, corners, held & (w.region[nearest] == _BODY))


def shares(w: WireStress, allowable: Stresses) -> dict[str, Array]:
    """Return one over the allowable at each station, ``(n,) float, 1/MPa``, by stress.

    ``judged axial`` and ``judged shear`` are zero where that stress decides nothing: bending in
    the body, shear in a loop. The verdict looks at the same places.
    """
    body = w.region == _BODY
    in_body, at_a, at_b = (getattr(allowable, PLACES[place][0]) for place in ("body", "A", "B"))
    searched = {
        place: np.isin(w.region, [REGIONS.index(r) for r in SEARCHED[place]]) for place in SEARCHED
    }
    shear = np.where(body, 1 / in_body, 1 / at_b)
    return {
        "axial": np.full(len(body), 1 / at_a),
        "shear": shear,
        "judged axial": np.where(searched["A"], 1 / at_a, 0.0),
        "judged shear": np.where(searched["body"] | searched["B"], shear, 0.0),
    }


def judged_share(w: WireStress, allowable: Stresses) -> Array:
    """Return the share of the allowable that decides at each station, per newton."""
    limits = shares(w, allowable)
    found: Array = np.maximum(
        limits["judged axial"] * w.stress.axial, limits["judged shear"] * w.stress.shear
    )
    return found


def _between(stations: Array, s: Array) -> tuple[npt.NDArray[np.intp], Array]:
    """Return the station before each ring and the share of the one after."""
    i = np.clip(np.searchsorted(stations, s, side="right") - 1, 0, len(stations) - 2)
    gap = stations[i + 1] - stations[i]
    share = np.where(gap > 0, (s - stations[i]) / np.where(gap > 0, gap, 1.0), 0.0)
    return i, np.clip(share, 0.0, 1.0)


def _corner_angles(
    w: WireStress, path: Path, s: Array, i: npt.NDArray[np.intp], share: Array, around: int
) -> Array:
    """Return the angle of each corner from the inside of the bend, ``(n, around) float, rad``."""
    _, e1, e2 = frames(path, s)
    normal = w.normal[i] + share[:, None] * (w.normal[i + 1] - w.normal[i])
    t = path.tangent(s)
    normal = normal - np.sum(normal * t, axis=1)[:, None] * t
    size = np.linalg.norm(normal, axis=1, keepdims=True)
    # where the inside of the bend changes sides there is no direction halfway
    normal = np.where(size > 1e-9, normal, e1)
    normal = unit(normal)
    start = np.arctan2(np.sum(normal * e2, axis=1), np.sum(normal * e1, axis=1))
    turn: Array = 2 * np.pi * np.arange(around) / around - start[:, None]
    return turn


def _mixed(field: Array, i: npt.NDArray[np.intp], share: Array, angle: Array) -> Array:
    """Return a field ``(stations, 72)`` at places between stations and angles, linearly."""
    place = (angle / (2 * np.pi) * ANGLES) % ANGLES
    k = np.floor(place).astype(int) % ANGLES
    part = place - np.floor(place)
    after = (k + 1) % ANGLES
    found = np.zeros_like(angle)
    for row, weight in ((i, 1 - share), (i + 1, share)):
        row_ = row[:, None]
        found += weight[:, None] * ((1 - part) * field[row_, k] + part * field[row_, after])
    return found
