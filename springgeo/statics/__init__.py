"""Along the wire: section forces, surface stress and rate of any centreline.

A reader of the centreline: imports numpy and ``springgeo.curve`` alone. Units mm, N, MPa.
"""

from springgeo.statics.analysis import WireStress, analyse
from springgeo.statics.contacts import Contacts
from springgeo.statics.energy import compliance, rate
from springgeo.statics.profile import profile
from springgeo.statics.regions import Peak, Peaks, Region
from springgeo.statics.stress import SectionStress, stresses

__all__ = [
    "Contacts",
    "Peak",
    "Peaks",
    "Region",
    "SectionStress",
    "WireStress",
    "analyse",
    "compliance",
    "profile",
    "rate",
    "stresses",
]
