"""Where a spring is stressed: a kind of stress and the end it is at. One vocabulary for all.

A is the handbooks' point of greatest bending in a hook, B their point of greatest torsion; here
they are `hook bending` and `hook torsion`, so that no letter means two things.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict

from springgeo.message import Message
from springgeo.text.shown import word

Kind = Literal["body", "hook bending", "hook torsion"]
EndName = Literal["first", "second", "both"]
# by which of the two methods
Way = Literal["handbook", "along the wire"]

# keys of stresses and margins in the summary, and the kind of place each is
KINDS: dict[str, Kind] = {
    "body_shear": "body",
    "hook_bending": "hook bending",
    "hook_torsion": "hook torsion",
}
ENDS: dict[str, EndName] = {"first": "first", "second": "second", "*": "both"}
# the same in words
KIND_WORDS: dict[Kind, Message] = {
    "body": word("body"),
    "hook bending": word("hook bending"),
    "hook torsion": word("hook torsion"),
}
_WORDS: dict[tuple[Kind, EndName | None], Message] = {
    **{(kind, None): words for kind, words in KIND_WORDS.items()},
    ("hook bending", "first"): word("hook bending, first end"),
    ("hook bending", "second"): word("hook bending, second end"),
    ("hook bending", "both"): word("hook bending, both ends"),
    ("hook torsion", "first"): word("hook torsion, first end"),
    ("hook torsion", "second"): word("hook torsion, second end"),
    ("hook torsion", "both"): word("hook torsion, both ends"),
}


class Place(BaseModel):
    """A kind of place, and the end it is at; None for the body.

    ``both``: the two ends are equally stressed.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    kind: Kind
    end: EndName | None = None

    @classmethod
    def of(cls, key: str, side: str | None) -> Place:
        """Return the place of a stress by its key, at end ``a``, ``b`` or ``*`` for both."""
        kind = KINDS[key]
        return cls(kind=kind, end=None if kind == "body" or side is None else ENDS[side])

    @property
    def words(self) -> Message:
        """The place in words: ``hook bending, first end``."""
        return _WORDS[self.kind, None if self.kind == "body" else self.end]
