"""One model of everything known about a spring; every output carries it."""

from springgeo.summary.model import Summary

__all__ = ["Summary"]
