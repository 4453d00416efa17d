"""Springs and summaries computed once for all tests of a process that only read them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache, lru_cache
from os import PathLike
from pathlib import Path
from typing import cast

from springgeo import Spring, Summary
from springgeo.specification.load import read_spec_text
from springgeo.summary.sections import Sections

_files: dict[tuple[str, str], Spring] = {}
# what it is before a test puts `kept` in its place
_from_preset = Spring.from_preset


@cache
def kept(name: str) -> Spring:
    """Return a preset as a spring that other tests may have asked before."""
    return _from_preset(name)


@cache
def again(name: str) -> Spring:
    """Return the preset made once more: what is written of both has the same bytes."""
    return _from_preset(name)


def kept_file(path: str | PathLike[str]) -> Spring:
    """Return the spring of a file: of the same text the same one, with its summary."""
    spec, text = read_spec_text(path)
    if Path(str(spec.wire.material)).is_absolute():  # what its file says may be another thing
        return Spring(spec, text)
    found = _files.setdefault((text, spec.model_dump_json()), Spring(spec, text))
    while len(_files) > 16:
        del _files[next(iter(_files))]
    return found


def made(data: Mapping[str, object]) -> Spring:
    """Return the spring of a specification: the same one each time, with its summary."""
    return _made(json.dumps(data))


def asked(spring: Spring) -> Summary:
    """Return a spring's summary of which a test computes what it reads.

    A section alone has the numbers of the whole, to the last digit (`tests/explanation`).
    """
    return cast("Summary", spring.sections)


def summary_of(data: Mapping[str, object]) -> Summary:
    """Return the summary of a specification, of which a test computes what it reads."""
    return cast("Summary", _asked(json.dumps(data)))


@lru_cache(maxsize=64)
def _made(text: str) -> Spring:
    return Spring.from_dict(json.loads(text))


@lru_cache(maxsize=64)
def _asked(text: str) -> Sections:
    return _made(text).sections
