"""Which published works a source names; the references stand once, in ``bibliography.yaml``."""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from springgeo.text.safe_yaml import parse_own


class Work(NamedTuple):
    """A work, or a kind of documents: its key, how sources name it, its reference."""

    key: str
    match: re.Pattern[str]
    reference: str
    published: bool


@cache
def bibliography() -> tuple[Work, ...]:
    """Return all works, published ones first."""
    text = files("springgeo.trade").joinpath("bibliography.yaml").read_text(encoding="utf-8")
    data = parse_own(text)
    return tuple(
        Work(key, re.compile(row["match"]), row["reference"], part == "works")
        for part in ("works", "kinds")
        for key, row in data[part].items()
    )


def works(source: str) -> tuple[Work, ...]:
    """Return the works that a source names; where it names none, the kinds of documents."""
    found = [w for w in bibliography() if w.match.search(source)]
    published = [w for w in found if w.published]
    return tuple(published or found)
