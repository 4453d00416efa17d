"""Puts body and ends together: the centreline of a whole spring in its own frame.

Frame: the contact point of end A (inside of its hook, on the axis) is the origin, +z runs to
end B, whose contact point is (0, 0, h); a loop at the side has its contact beside those. The
loop plane of end A is XZ, with the side from which its wire comes at +x. A left-hand spring is
the mirror image.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from springgeo.curve import Helix, Path, Piece, tube_box
from springgeo.curve.frame import FLIP, MIRROR, Array, rotation_z, vector
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.fittings import Part
from springgeo.specification.wire import Hand


@dataclass(frozen=True, eq=False)
class Geometry:
    """The spring's centreline and what was built into it; mm and rad.

    Attributes
    ----------
    path : Path
        From the cut end of A to the cut end of B.
    length : float
        Inside hooks, from contact to contact, as two pins or a caliper have it that draw the spring
        straight: the height, and more where the contacts stand out of line.
    height : float
        From contact to contact along the axis, closed form: hook lengths + turns · pitch + d.
    angle : float or None
        From the loop plane of A to that of B, 0 ≤ angle < π; None if an end has no loop.
    contact_s : (float or None, float or None)
        Arc length at which each hook is loaded.
    parts : tuple of Part
        What fitted ends hold, named ``a.swivel`` and the like, in the spring's frame.
    """

    path: Path
    wire_diameter: float
    coil_radius: float
    pitch: float
    turns: float
    hand: Hand
    first: EndShape
    second: EndShape
    parts: tuple[Part, ...] = ()

    @property
    def body_length(self) -> float:
        """Length over the coils between the body's end faces, mm."""
        return self.turns * self.pitch + self.wire_diameter

    @property
    def body_faces(self) -> tuple[float, float]:
        """Heights of the body's end faces, mm."""
        return self.first.hook_length, self.first.hook_length + self.body_length

    @property
    def height(self) -> float:
        """From contact to contact along the axis, mm."""
        return self.first.hook_length + self.body_length + self.second.hook_length

    @property
    def length(self) -> float:
        """Length inside hooks, from contact to contact, mm."""
        return self.height + self.askew

    @property
    def pull_points(self) -> tuple[Array, Array]:
        """Points through which the pull goes, each ``(3,) float, mm``.

        The wire's centreline at the contact of a hook, the point on the axis of a fitted end.
        """
        a, b = (
            contact if s is None else self.path.point(np.array([s]))[0]
            for s, contact in zip(self.contact_s, self.contacts, strict=True)
        )
        return a, b

    @cached_property
    def askew(self) -> float:
        """By how much the points of pull are further apart than along the axis, mm."""
        a, b = self.pull_points
        x, y, along = (b - a).tolist()
        aside = x * x + y * y
        # as the difference of both it would be rounded
        return aside / (along + math.sqrt(aside + along * along)) if aside else 0.0

    @property
    def angle(self) -> float | None:
        """Angle between the loop planes, rad, 0 ≤ angle < π."""
        if self.first.azimuth is None or self.second.azimuth is None:
            return None
        turned = 2 * math.pi * self.turns + self.first.azimuth + self.second.azimuth
        angle = (turned if self.hand == "right" else -turned) % math.pi
        return 0.0 if math.pi - angle < 1e-9 else angle

    @property
    def facing(self) -> float | None:
        """From the side that the hook of A opens to, to that of B, about +z, rad, 0 ≤ facing < 2π.

        None if an end has no loop.
        """
        to_a, to_b = self.first.opens_to, self.second.opens_to
        if to_a is None or to_b is None:
            return None
        turned = 2 * math.pi * self.turns + to_a + to_b
        facing = (turned if self.hand == "right" else -turned) % (2 * math.pi)
        return 0.0 if 2 * math.pi - facing < 1e-9 else facing

    @property
    def contact_s(self) -> tuple[float | None, float | None]:
        """Arc lengths of the two contact points on the path, mm."""
        return self._on_path(self.first.contact_s, self.second.contact_s)

    @property
    def load_s(self) -> tuple[float, float]:
        """Arc lengths, mm, between which the wire is loaded.

        From hook to hook; a fitting takes the load where it grips the wire, and a plain end is
        held at its cut.
        """
        at = (s.grip_s if s.contact_s is None else s.contact_s for s in (self.first, self.second))
        s_a, s_b = self._on_path(*at)
        return 0.0 if s_a is None else s_a, self.path.length if s_b is None else s_b

    def _on_path(self, a: float | None, b: float | None) -> tuple[float | None, float | None]:
        return (
            None if a is None else self.first.length - a,
            None if b is None else self.path.length - self.second.length + b,
        )

    @property
    def contacts(self) -> tuple[Array, Array]:
        """Contact points of A and B, inside of each hook, each ``(3,) float, mm``.

        On the axis, except for a loop at the side of the body.
        """
        (s_a, s_b), axis = self.contact_s, (np.zeros(3), vector(0.0, 0.0, self.height))
        return self._beside(self.first, s_a, axis[0]), self._beside(self.second, s_b, axis[1])

    def _beside(self, shape: EndShape, s: float | None, axis: Array) -> Array:
        if s is None or shape.offset == 0.0:
            return axis
        x, y, _ = self.path.point(np.array([s]))[0].tolist()
        return vector(x, y, float(axis[2]))

    def overhang(self, shape: EndShape) -> float:
        """Return how far the wire reaches beyond the contact point along the axis, mm.

        One wire diameter for a hook, or what the shape says, a fitting's share included; for a
        plain end the cut disc, tilted by the lead angle, stays a little inside the nominal end
        face.
        """
        if shape.reach is not None:
            return shape.reach
        if shape.contact_s is not None:
            return self.wire_diameter
        lead = math.atan2(self.pitch, 2 * math.pi * self.coil_radius)
        return -self.wire_diameter / 2 * (1 - math.cos(lead))

    @property
    def total_coils(self) -> float:
        """All coils: the body's, those that ends wind beside them, those that fittings hold."""
        ends = (self.first, self.second)
        return self.turns + sum(e.working_coils + e.gripped_coils for e in ends)

    @property
    def volume(self) -> float:
        """Of wire and parts, mm³."""
        wire = math.pi * self.wire_diameter**2 / 4 * self.path.length
        return wire + sum(p.volume for p in self.parts)

    @cached_property
    def box(self) -> Array:
        """Exact bounding box of wire and parts, ``(2, 3) float, mm``: lowest, highest corner."""
        boxes = [tube_box(self.path, self.wire_diameter / 2), *(p.box for p in self.parts)]
        low, high = zip(*boxes, strict=True)
        return np.array([np.min(low, axis=0), np.max(high, axis=0)])

    @property
    def overall_length(self) -> float:
        """Length over everything along the axis, mm: to the contacts, and the wire at each end."""
        return self.height + self.overhang(self.first) + self.overhang(self.second)


def assemble(end: BodyEnd, turns: float, hand: Hand, a: EndShape, b: EndShape) -> Geometry:
    """Return the geometry of a body of ``turns`` turns between two end shapes."""
    body = Piece(Helix(radius=end.coil_radius, pitch=end.pitch, turns=turns), "body", "body")
    zero = np.zeros(3)
    spin, lift = rotation_z(2 * math.pi * turns), vector(0.0, 0.0, turns * end.pitch)
    pieces = [body]
    if b.pieces:
        pieces += Path(_named(b, "second")).moved(spin, lift).pieces
    if a.pieces:
        pieces = [*Path(_named(a, "first")).moved(FLIP, zero).reversed().pieces, *pieces]
    parts = [
        *(replace(p, name=f"first.{p.name}").moved(FLIP, zero) for p in a.parts),
        *(replace(p, name=f"second.{p.name}").moved(spin, lift) for p in b.parts),
    ]
    place = rotation_z(a.azimuth or 0.0), vector(0.0, 0.0, a.hook_length + end.wire_diameter / 2)
    path, parts = Path(pieces).moved(*place), [p.moved(*place) for p in parts]
    if hand == "left":
        path, parts = path.moved(MIRROR, zero), [p.moved(MIRROR, zero) for p in parts]
    return Geometry(
        path, end.wire_diameter, end.coil_radius, end.pitch, turns, hand, a, b, tuple(parts)
    )


def turns_for_angle(
    turns: float, angle: float, hand: Hand, a: EndShape, b: EndShape, *, whole: bool = False
) -> float:
    """Return the nearest number of turns at which the loop planes stand at ``angle`` rad.

    With ``whole`` the hooks also open to sides that far apart, half a turn being a difference.
    """
    wanted = angle if hand == "right" else -angle
    places = (s.opens_to if whole else s.azimuth for s in (a, b))
    rest = (wanted - sum(p or 0.0 for p in places)) / (2 * math.pi)
    step = 1.0 if whole else 0.5
    return rest + round((turns - rest) / step) * step


def _named(shape: EndShape, end: str) -> list[Piece]:
    return [replace(p, label=f"{end}.{p.label}") for p in shape.pieces]
