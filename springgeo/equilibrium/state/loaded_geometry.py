"""The spring's geometry under load: what is closed form when drawn is read off the wire."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from typing import Self

import numpy as np

from springgeo.curve.frame import Array, vector
from springgeo.equilibrium.state.spring_state import SpringState
from springgeo.spring.geometry import Geometry


@dataclass(frozen=True, eq=False, kw_only=True)
class LoadedGeometry(Geometry):
    """A spring as loaded: coil radius, pitch, turns and end shapes stay those it is made with.

    Attributes
    ----------
    drawn : Geometry
        The spring without load.
    state : SpringState
    """

    drawn: Geometry
    state: SpringState

    @classmethod
    def of(cls, drawn: Geometry, state: SpringState) -> Self:
        """Return the geometry of a state."""
        made = {f.name: getattr(drawn, f.name) for f in fields(Geometry)}
        made |= {"path": state.path, "parts": state.parts}
        return cls(**made, drawn=drawn, state=state)

    @property
    def length(self) -> float:
        """Length inside hooks, mm."""
        return self.state.length

    # along the line of pull it is the length
    height = length

    @property
    def contacts(self) -> tuple[Array, Array]:
        """Contact points of A and B, each ``(3,) float, mm``: inside of a hook, toward the pull."""
        found = []
        motions = self.state.motion_a, self.state.motion_b
        drawn = zip(self.drawn.contact_s, self.drawn.contacts, self.drawn.pull_points, strict=True)
        for (s, inside, point), (axes, origin) in zip(drawn, motions, strict=True):
            if s is None:
                found.append(origin + axes @ point)
            else:
                inward = vector(0.0, 0.0, float(inside[2] - point[2]))
                found.append(self.path.point(np.array([s]))[0] + inward)
        return found[0], found[1]

    @property
    def angle(self) -> float | None:
        """Angle between the loop planes, rad, 0 ≤ angle < π."""
        return self._turned(self.drawn.angle, math.pi)

    @property
    def facing(self) -> float | None:
        """From the side that the hook of A opens to, to that of B, rad, 0 ≤ facing < 2π."""
        return self._turned(self.drawn.facing, 2 * math.pi)

    def _turned(self, drawn: float | None, whole: float) -> float | None:
        """Return an angle about z from A to B, as drawn and by how much B has turned more."""
        if drawn is None:
            return None
        turn = self.state.motion_b[0] @ self.state.motion_a[0].T
        more = math.atan2(float(turn[1, 0] - turn[0, 1]), float(turn[0, 0] + turn[1, 1]))
        angle = (drawn + more) % whole
        return 0.0 if whole - angle < 1e-9 else angle

    @property
    def overall_length(self) -> float:
        """Length over everything along the pull, mm: that of the box."""
        return float(self.box[1, 2] - self.box[0, 2])

    @property
    def body_faces(self) -> tuple[float, float]:
        """Heights of the body's end faces, mm: half a wire beyond the ends of its coils."""
        ends = [
            float(piece.segment.point(np.array([at]))[0, 2])
            for piece in self.path.pieces
            if piece.role == "body"
            for at in (0.0, piece.segment.length)
        ]
        half = self.wire_diameter / 2
        return min(ends) - half, max(ends) + half

    @property
    def body_length(self) -> float:
        """Length over the coils between the body's end faces, mm."""
        low, high = self.body_faces
        return high - low
