"""Small pictures straight from the centreline: no kernel, no plotting library."""

from springgeo.picture.svg import spring_svg

__all__ = ["spring_svg"]
