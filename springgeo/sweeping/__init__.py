"""One spring many times over, some of its values changed: a table of what follows."""

from springgeo.sweeping.sweep import sweep
from springgeo.sweeping.table import Table

__all__ = ["Table", "sweep"]
