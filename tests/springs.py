"""The presets as springs, each computed once for all tests of a process that only read it."""

from __future__ import annotations

from functools import cache

from springgeo import Spring


@cache
def kept(name: str) -> Spring:
    """Return a preset as a spring that other tests may have asked before."""
    return Spring.from_preset(name)
