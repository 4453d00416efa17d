"""The load curve handed over: as a table, and as a spring element of two multi-body formats."""

from springgeo.handover.table import LoadTable
from springgeo.handover.write import ENDINGS, write

__all__ = ["ENDINGS", "LoadTable", "write"]
