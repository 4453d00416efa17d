"""What is used of a plane figure of shapely, which brings no types of its own."""

from __future__ import annotations

from typing import Literal, Protocol


class Planar(Protocol):
    """Points, lines or areas of the plane; lines have no ``area``, ``boundary`` is round one.

    ``bounds``: left, bottom, right, top. ``geom_type``: what it is called, ``Polygon``.
    """

    area: float
    length: float
    bounds: tuple[float, float, float, float]
    boundary: Planar
    geom_type: str
    is_empty: bool

    def buffer(
        self,
        distance: float,
        quad_segs: int = ...,
        cap_style: Literal["round", "square", "flat"] = ...,
    ) -> Planar:
        """Return it with all that lies within a distance; less, if that is negative."""

    def covers(self, other: Planar) -> bool:
        """Return whether nothing of the other lies outside."""

    def difference(self, other: Planar) -> Planar:
        """Return what the other leaves of it."""

    def intersection(self, other: Planar) -> Planar:
        """Return what both have."""

    def intersects(self, other: Planar) -> bool:
        """Return whether they have a point in common."""
