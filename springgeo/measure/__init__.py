"""From readings of a spring on the bench to its specification, with uncertainties."""

from springgeo.measure.measured import Measured, measure
from springgeo.measure.readings import Readings, read_readings

__all__ = ["Measured", "Readings", "measure", "read_readings"]
