"""Many springs at once: a table or a grid of specifications, built in parallel, resumable."""

from springgeo.family.member import Member
from springgeo.family.run import Outcome, build_family
from springgeo.family.table import read_family

__all__ = ["Member", "Outcome", "build_family", "read_family"]
