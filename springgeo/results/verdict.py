"""Whether the spring holds, and the checks on what was built."""

from __future__ import annotations

from typing import Literal

from springgeo.message import Text
from springgeo.results.facts import Facts
from springgeo.results.place import Place, Way

Outcome = Literal["holds", "fails", "not judged"]


class Verdict(Facts):
    """Whether the spring holds its highest load, by the least margin of both methods.

    ``outcome`` is ``fails`` where a margin or the fatigue factor is below 1; ``not judged`` where
    something that must hold is not computed (``reasons``), whatever the margin; else ``holds``.
    ``as_mounted``: the least margin is that of the spring where its mating section mounts it, and
    ``load`` what it bears there; else that of the straight pull. ``words`` is the whole as one
    sentence.
    """

    outcome: Outcome
    load: float
    margin: float
    place: Place
    way: Way
    as_mounted: bool = False
    reasons: tuple[Text, ...]
    words: Text


class Check(Facts):
    """One check on what was built."""

    name: str
    value: float
    bound: float
    unit: str
    ok: bool
    what: Text
