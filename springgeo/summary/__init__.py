"""One model of everything known about a spring; every output carries it."""

from springgeo.results.summary import Summary

__all__ = ["Summary"]
