"""Published tolerances as data: ground floor, like the materials."""

from springgeo.trade.load_tolerance import Tolerance, load_tolerance, rate_tolerance

__all__ = ["Tolerance", "load_tolerance", "rate_tolerance"]
