"""Springs and summaries computed once for all tests of a process that only read them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache, lru_cache

from springgeo import Spring, Summary


@cache
def kept(name: str) -> Spring:
    """Return a preset as a spring that other tests may have asked before."""
    return Spring.from_preset(name)


def made(data: Mapping[str, object]) -> Spring:
    """Return the spring of a specification: the same one each time, with its summary."""
    return _made(json.dumps(data))


def summary_of(data: Mapping[str, object]) -> Summary:
    """Return the summary of a specification."""
    return made(data).summary()


@lru_cache(maxsize=64)
def _made(text: str) -> Spring:
    return Spring.from_dict(json.loads(text))
