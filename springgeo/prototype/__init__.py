"""Printed prototypes: the spring's true shape for the hand and for fits, never for a load."""

from springgeo.prototype.build import Prototype, prototype
from springgeo.prototype.options import Options

__all__ = ["Options", "Prototype", "prototype"]
