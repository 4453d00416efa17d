"""What is used of a plane figure of shapely, which brings no types of its own."""

from __future__ import annotations

from typing import Literal, Protocol


class Planar(Protocol):
    """Points, lines or areas of the plane."""

    @property
    def area(self) -> float:
        """Nothing for lines."""

    @property
    def length(self) -> float:
        """Of the lines, or round the area."""

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top."""

    @property
    def boundary(self) -> Planar:
        """The lines round an area."""

    @property
    def geom_type(self) -> str:
        """What it is called: ``Polygon``."""

    @property
    def is_empty(self) -> bool:
        """Whether nothing is left of it."""

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
