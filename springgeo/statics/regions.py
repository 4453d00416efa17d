"""Which part of a spring a station belongs to, and the greatest stresses there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.statics.around import Greatest
from springgeo.statics.bands import Surroundings

Region = Literal["body", "B", "A", "elsewhere"]
REGIONS: tuple[Region, ...] = ("body", "B", "A", "elsewhere")

# in wire diameters: how much of the body next to other wire counts as B, so that next to nothing
# of a bend is felt in what is left
APPROACH = 1.5


@dataclass(frozen=True)
class Peak:
    """A greatest stress, MPa, with its arc length, mm, piece, and angle round the wire, rad.

    ``near`` says what the wire is like there, and so how far the stress may be off (``bands``).
    """

    value: float
    s: float
    label: str
    angle: float
    near: Surroundings


@dataclass(frozen=True)
class Peaks:
    """The greatest absolute axial stress, shear stress (Tresca/2) and von Mises stress."""

    axial: Peak
    shear: Peak
    von_mises: Peak

    def scaled(self, F: float) -> Peaks:
        """Return the peaks with every stress times ``|F|``."""
        size = abs(F)
        return Peaks(
            *(replace(p, value=size * p.value) for p in (self.axial, self.shear, self.von_mises))
        )


# in wire diameters: how far before its joint with a loop a bend ends, for the sake of its peak
JOINT = 0.06


def region_of(
    path: Path, s: Array, index: npt.NDArray[np.intp], wire_diameter: float
) -> npt.NDArray[np.intp]:
    """Return the position in ``REGIONS`` of each station, ``(n,) int``.

    A is wire of role ``loop`` and 0.06 d of a bend that joins it; B other wire of role ``bend``,
    and the 1.5 d of body (at most a quarter of it) next to wire of another role; body the rest
    of the coils, those wound by an end among them; elsewhere is straight wire.
    """
    roles = np.array(["body" if p.role == "coil" else p.role for p in path.pieces])
    start, end = path.starts[:-1], path.starts[1:]
    # coils held by a fitting go on as the body does: no bend begins there
    joined = (roles[1:] != roles[:-1]) & (roles[1:] != "gripped") & (roles[:-1] != "gripped")
    reach = np.minimum(APPROACH * wire_diameter, (end - start) / 4)
    low = np.where(np.append(False, joined), start + reach, -np.inf)
    high = np.where(np.append(joined, False), end - reach, np.inf)
    beside = (s <= low[index]) | (s >= high[index])
    of_role: dict[str, Region] = {"body": "body", "bend": "B", "loop": "A", "straight": "elsewhere"}
    of_role["gripped"] = "elsewhere"
    out = np.array([REGIONS.index(of_role[role]) for role in roles])[index]
    out[(roles[index] == "body") & beside] = REGIONS.index("B")
    return _joints_to_hook(out, roles, s, index, path.starts, JOINT * wire_diameter)


def _joints_to_hook(
    out: npt.NDArray[np.intp],
    roles: npt.NDArray[np.str_],
    s: Array,
    index: npt.NDArray[np.intp],
    starts: Array,
    reach: float,
) -> npt.NDArray[np.intp]:
    """Return the regions with a bend's last stretch before a loop counted to the loop.

    There the stress already climbs toward A; a bend's own peak must not be taken from it.
    """
    loop = REGIONS.index("A")
    to_loop = np.append(roles[1:] == "loop", False)[index] & (s >= starts[index + 1] - reach)
    from_loop = np.append(False, roles[:-1] == "loop")[index] & (s <= starts[index] + reach)
    out[(roles[index] == "bend") & (to_loop | from_loop)] = loop
    return out


def peaks(
    found: Greatest,
    s: Array,
    label: tuple[str, ...],
    index: npt.NDArray[np.intp],
    where: npt.NDArray[np.bool_],
    near: Callable[[float], Surroundings],
) -> Peaks | None:
    """Return the peaks over the stations ``where`` is true, or None if there is none.

    Parameters
    ----------
    found : Greatest
    s : (n,) float, mm
    label : tuple of str
        Of each piece of the path.
    index : (n,) int
        Piece of each station.
    where : (n,) bool
    near : callable
        What the wire is like at an arc length, mm.
    """
    rows = np.flatnonzero(where)
    if not len(rows):
        return None

    def peak(value: Array, angle: Array) -> Peak:
        i = rows[np.argmax(value[rows])]
        at = float(s[i])
        return Peak(float(value[i]), at, label[index[i]], float(angle[i]), near(at))

    return Peaks(
        peak(found.axial, found.axial_angle),
        peak(found.shear, found.shear_angle),
        peak(found.von_mises, found.von_mises_angle),
    )
