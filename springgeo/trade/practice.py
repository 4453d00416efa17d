"""Single figures of the trade, each once, with its source."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import NamedTuple

from springgeo.text.safe_yaml import parse_own


class Figure(NamedTuple):
    """A number, where it comes from, and how that is known."""

    value: float
    source: str
    known: str


@cache
def figures() -> dict[str, Figure]:
    """Return the figures of ``practice.yaml`` by name; units stand in their sources."""
    text = files("springgeo.trade").joinpath("practice.yaml").read_text(encoding="utf-8")
    return {
        name: Figure(float(row["value"]), row["source"], row["known"])
        for name, row in parse_own(text).items()
    }


def practice(name: str) -> float:
    """Return a figure by its name."""
    return figures()[name].value
