r"""Screwed-in shackle: a flat plate with notched sides in the last coils, a hole outside.

```
        .--.
       ( () )         round end with the hole
        |  |
     (==|  |==)       teeth reach between the coils
     (==|  |==)
     ==========
```
The length inside hooks counts to the far side of the hole. Coils on the plate count in all coils,
not in the active ones (EN 13906-2, screwed-in ends). Guaranteed for index ≥ 5, 2 to 6 coils. The
plate's proportions are common practice; the load at which it pulls out must be proven by test.
"""

from __future__ import annotations

import math

from springgeo.curve import Helix
from springgeo.ends.fitted import screwed_in
from springgeo.ends.fitted.held_coils import HeldCoils
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits
from springgeo.fittings import Part, Plate
from springgeo.specification.quantity import Length

# a notch round a coil, in wire diameters: half its floor, half its mouth, height of the mouth
# above the floor
FLOOR, MOUTH, DEPTH = 0.2, 0.42, 0.15


class ScrewedInShackle(screwed_in.ScrewedIn):
    """Lengths in mm.

    ``coils`` on the plate (3.5), ``hole_diameter`` (0.4 of the coil's inside diameter),
    ``hole_height`` from the last coil to the hole's edge (a wire diameter), ``thickness`` of the
    sheet (1.5 d, at most a quarter of the coil's inside diameter).
    """

    hole_diameter: Length | None = None
    hole_height: Length | None = None
    thickness: Length | None = None


def shape(p: ScrewedInShackle, end: BodyEnd) -> EndShape:
    """Return the held coils and the plate."""
    d, (held, coil) = end.wire_diameter, screwed_in.coils(p.coils, end)
    inside = 2 * held.coil_radius - d
    thick = limits.between(
        "thickness",
        min(1.5 * d, 0.25 * inside) if p.thickness is None else p.thickness,
        0.1 * d,
        0.4 * inside,
        "from a tenth of a wire diameter to 0.4 of the coil's inside diameter",
        "choose a thickness within it",
    )
    floor = _within(held.coil_radius - d / 2 - screwed_in.PLAY * d, thick)
    hole = limits.between(
        "hole_diameter",
        0.4 * inside if p.hole_diameter is None else p.hole_diameter,
        0.2 * d,
        1.4 * floor,
        "from a fifth of a wire diameter to 0.7 of the plate's width",
        "choose a diameter within it",
    )
    above = limits.between(
        "hole_height",
        d if p.hole_height is None else p.hole_height,
        0.0,
        20 * held.coil_radius,
        "from nothing to ten coil diameters",
        "choose a height within it",
    )
    centre = coil.turns * coil.pitch + d / 2 + max(above, 0.1 * d) + hole / 2
    right, left = (_side(held, coil, thick, sign) for sign in (1.0, -1.0))
    plate = Plate(
        left=(*left, (-floor, centre)),
        right=(*right, (floor, centre)),
        centre=centre,
        radius=floor,
        hole=hole / 2,
        thickness=thick,
    )
    sizes = (("width", 2 * floor), ("thickness", thick), ("hole diameter", hole))
    return screwed_in.end_shape(
        held,
        coil,
        end,
        Part("shackle", plate, sizes=sizes),
        above=centre + hole / 2,
        reach=floor - hole / 2,
        built={"hole_diameter": hole, "hole_height": above, "thickness": thick},
    )


def _within(radius: float, thick: float) -> float:
    """Return the half width of a plate whose corners stay within ``radius`` mm."""
    return math.sqrt(radius**2 - (thick / 2) ** 2)


def _side(
    held: HeldCoils, coil: Helix, thick: float, sign: float
) -> tuple[tuple[float, float], ...]:
    """Return one side of the plate up to the last coil: a notch round every coil.

    Across the sheet the coils rise by a part of their pitch, by which a notch is wider.
    """
    d = held.wire_diameter
    root = held.coil_radius - d / 2 - screwed_in.PLAY * d
    floor, tip = _within(root, thick), _within(root + DEPTH * d, thick)
    rise = coil.pitch * math.asin(thick / 2 / root) / (2 * math.pi)
    half = coil.pitch / 2
    mouth = min(MOUTH * d + rise, 0.48 * coil.pitch)
    bottom = 0.6 * d
    first = 0.0 if sign > 0 else half
    points: list[tuple[float, float]] = [(sign * floor, bottom)]
    k = 0
    while (z := first + k * coil.pitch) <= coil.turns * coil.pitch + 1e-9 * d:
        foot, head = z - FLOOR * d - rise, z + FLOOR * d + rise
        if z - mouth > bottom:
            points += [(sign * tip, z - mouth), (sign * floor, foot)]
        last = z + coil.pitch > coil.turns * coil.pitch + 1e-9 * d
        if head > bottom:
            points.append((sign * floor, head))
            if not last:
                points.append((sign * tip, z + mouth))
        k += 1
    return tuple(points)


END = screwed_in.style(
    shape,
    "screwed-in shackle",
    "A flat plate with a hole, screwed into the last coils: no hook stress.",
    5,
    lambda d, r: {
        "hole_diameter": (0.5 * d, 0.9 * r),
        "hole_height": (0.2 * d, 2 * r),
        "thickness": (0.3 * d, 0.3 * r),
    },
)
