"""What every section reads."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.computed import ComputedSpring
from springgeo.note.steps import Sources, Steps
from springgeo.results.place import KIND_WORDS, KINDS
from springgeo.results.summary import Summary
from springgeo.text.shown import Shown


@dataclass
class Written:
    """What every section reads: the spring, its recorded summary, the reader, the sources."""

    spring: ComputedSpring
    s: Summary
    shown: Shown
    sources: Sources
    steps: Steps

    def place(self, key: str) -> str:
        """Return a place in the reader's words."""
        return self.shown.text(KIND_WORDS[KINDS[key]])
