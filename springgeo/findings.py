"""Findings: what the tool says about a spring, as values; exceptions are only for "cannot"."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import Literal

from pydantic import BaseModel, ConfigDict

from springgeo.message import Text

# what a remark is about: the spring, or the source of the data it was judged by
Topic = Literal["design", "source"]
Severity = Literal["error", "warning", "note"]
_ORDER = {"error": 0, "warning": 1, "note": 2}


class Finding(BaseModel):
    """One remark about one field.

    ``error``: the spring cannot be made; ``warning``: it can, but it is unwise; ``note``: good
    to know. ``code`` is stable and meant for programs; ``message`` names the value with its
    unit, the limit, and what to change; made by `springgeo.text.shown.said` it can be shown in
    other units and languages. In ``field`` a ``*`` stands for both ends. ``topic`` is
    ``source`` where the remark is on where data come from, not on the spring. ``room``, mm: of what
    stands in another's way, the clearance that the remark is about; negative: so deep they overlap.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    code: str
    severity: Severity
    field: str
    message: Text
    topic: Topic = "design"
    room: float | None = None

    def line(self, message: str | None = None) -> str:
        """Return the finding as one line for people, its message in their units if given."""
        return f"{self.field}: {self.message if message is None else message} [{self.code}]"


def error(code: str, field: str, message: str, room: float | None = None) -> Finding:
    """Return a finding of severity ``error``; ``room``: of what stands in another's way, mm."""
    return Finding(code=code, severity="error", field=field, message=message, room=room)


def warning(code: str, field: str, message: str, room: float | None = None) -> Finding:
    """Return a finding of severity ``warning``; ``room`` as for ``error``."""
    return Finding(code=code, severity="warning", field=field, message=message, room=room)


def note(code: str, field: str, message: str) -> Finding:
    """Return a finding of severity ``note``."""
    return Finding(code=code, severity="note", field=field, message=message)


def source(code: str, field: str, message: str) -> Finding:
    """Return a note on where data come from."""
    return Finding(code=code, severity="note", field=field, message=message, topic="source")


def by_severity(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings, gravest first, otherwise in the order given, without repeats.

    What is true of both ends in the same words is said once, of ``ends.*``.
    """
    every = dict.fromkeys(findings)
    merged = []
    for f in every:
        parts = f.field.split(".")
        side = parts[1] if len(parts) > 1 else ""
        if side in ("first", "second"):
            twin = ".".join([parts[0], "second" if side == "first" else "first", *parts[2:]])
            if f.model_copy(update={"field": twin}) in every:
                shared = ".".join([parts[0], "*", *parts[2:]])
                f = f.model_copy(update={"field": shared})
        merged.append(f)
    return tuple(sorted(dict.fromkeys(merged), key=lambda f: _ORDER[f.severity]))


def nearest(word: str, choices: Iterable[str]) -> str:
    """Return a phrase that offers the nearest valid words for a misspelt one.

    Examples
    --------
    >>> nearest("diametre", ["diameter", "material"])
    "did you mean 'diameter'?"
    """
    known = sorted(choices)
    folded: dict[str, str] = {}
    for choice in known:
        folded.setdefault(choice.casefold(), choice)
    close = difflib.get_close_matches(str(word)[:60].casefold(), folded, n=2, cutoff=0.6)
    if close:
        return "did you mean " + " or ".join(f"'{folded[c]}'" for c in close) + "?"
    return "use one of: " + ", ".join(known)
