"""Along the wire: section forces, surface stress and rate of any centreline.

A reader of the centreline: imports numpy and ``springgeo.curve`` alone. Units mm, N, MPa.
"""

from springgeo.statics.analysis import Stressable, UnitStress, WireStress, analyse, per_newton
from springgeo.statics.contacts import Contacts
from springgeo.statics.energy import compliance, rate
from springgeo.statics.profile import StressProfile
from springgeo.statics.regions import Peak, Peaks, Region
from springgeo.statics.section_stress import SectionStress
from springgeo.statics.stress import stresses

__all__ = [
    "Contacts",
    "Peak",
    "Peaks",
    "Region",
    "SectionStress",
    "StressProfile",
    "Stressable",
    "UnitStress",
    "WireStress",
    "analyse",
    "compliance",
    "per_newton",
    "rate",
    "stresses",
]
