"""Springs beside each other: what they share, where they differ, curves and shapes overlaid."""

from springgeo.comparing.model import Comparison, Row, compare

__all__ = ["Comparison", "Row", "compare"]
