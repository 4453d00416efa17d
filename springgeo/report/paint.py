"""Stress for the view: at every ring of the drawn wire, and how it is spread round it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path
from springgeo.curve.frame import Array, unit
from springgeo.mesh import frames
from springgeo.results.handbook import Stresses
from springgeo.statics import WireStress
from springgeo.statics.around import ANGLES, everywhere
from springgeo.statics.regions import REGIONS
from springgeo.statics.surface import surface
from springgeo.summary.wire import PLACES, SEARCHED
from springgeo.text.shown import word

# what the wire can be painted with, as a share of the allowable
KINDS = {"judged": word("what decides"), "shear": word("shear"), "axial": word("bending")}
# stresses, MPa, that can be read at any place
STRESSES = {"axial": word("bending"), "shear": word("shear"), "von_mises": word("von Mises")}
_BODY = REGIONS.index("body")


@dataclass(frozen=True, eq=False)
class Paint:
    """Stress and its share of the allowable at rings of the free spring, under one load.

    Attributes
    ----------
    greatest : dict of stress to (n,) float, MPa
        Round the section; zero in the wire beyond the contacts, which carries nothing.
    use : dict of kind to (n,) float
        Greatest share of the allowable round the section.
    """

    greatest: dict[str, Array]
    use: dict[str, Array]


def paint(w: WireStress, s: Array, allowable: Stresses) -> Paint:
    """Return stress and use at rings ``s`` ``(n,) float, mm`` of the free wire."""
    held = _held(w, s)
    limits = shares(w, allowable)
    exact = {
        "axial": limits["axial"] * w.stress.axial,
        "shear": limits["shear"] * w.stress.shear,
        "judged": judged_share(w, allowable),
    }

    def at_rings(field: Array) -> Array:
        found: Array = np.where(held, np.interp(s, w.s, field), 0.0)
        return found

    return Paint(
        {name: at_rings(getattr(w.stress, name)) for name in STRESSES},
        {kind: at_rings(exact[kind]) for kind in KINDS},
    )


def corners(
    w: WireStress,
    path: Path,
    wire_diameter: float,
    nu: float,
    s: Array,
    around: int,
    allowable: Stresses,
) -> dict[str, Array]:
    """Return by kind how the use is spread round each ring, ``(n, around) float``, at most 1.

    Corners are counted as ``springgeo.mesh`` does; the greatest of a ring is 1, though the peak
    lies between two corners.

    Parameters
    ----------
    w : WireStress
    path : Path
        The free wire.
    wire_diameter : float, mm
    nu : float
        Poisson's ratio.
    s : (n,) float, mm
        The rings.
    around : int
        Corners of a ring.
    allowable : Stresses, MPa
    """
    limits = shares(w, allowable)
    axial, tresca, _ = everywhere(surface(w.forces, w.felt, wire_diameter, nu))
    fields = {
        "axial": limits["axial"][:, None] * axial,
        "shear": limits["shear"][:, None] * tresca,
        "judged": np.maximum(
            limits["judged axial"][:, None] * axial, limits["judged shear"][:, None] * tresca
        ),
    }
    i, share = _between(w.s, s)
    angle = _corner_angles(w, path, s, i, share, around)
    mixed = _mixed([fields[kind] for kind in KINDS], i, share, angle)
    held, found = _held(w, s)[:, None], {}
    for kind, field in zip(KINDS, mixed, strict=True):
        most = field.max(axis=1, keepdims=True)
        found[kind] = np.where(held, field / np.where(most > 0, most, 1.0), 0.0)
    return found


def _held(w: WireStress, s: Array) -> npt.NDArray[np.bool_]:
    found: npt.NDArray[np.bool_] = (s >= w.s[0] - 1e-9) & (s <= w.s[-1] + 1e-9)
    return found


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
    """Return the share of the allowable that decides at each station, ``(n,) float``."""
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


def _mixed(
    fields: Sequence[Array], i: npt.NDArray[np.intp], share: Array, angle: Array
) -> list[Array]:
    """Return fields ``(stations, 72)`` at places between stations and angles, linearly."""
    place = (angle / (2 * np.pi) * ANGLES) % ANGLES
    k = np.floor(place).astype(int) % ANGLES
    part = place - np.floor(place)
    found = [np.zeros_like(angle) for _ in fields]
    for row, weight in ((i, 1 - share), (i + 1, share)):
        first = (row * ANGLES)[:, None]
        for column, own in ((k, 1 - part), ((k + 1) % ANGLES, part)):
            at, by = first + column, weight[:, None] * own
            for mixed, field in zip(found, fields, strict=True):
                mixed += by * field.ravel().take(at)
    return found
