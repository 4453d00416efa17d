"""From a spring to its calculation note."""

from __future__ import annotations

import hashlib

from springgeo.computed import ComputedSpring
from springgeo.note.model import Note
from springgeo.note.sections import SECTIONS
from springgeo.note.sections.written import Written
from springgeo.note.steps import Sources, Steps
from springgeo.text.shown import Shown
from springgeo.version import __version__


def note(spring: ComputedSpring, shown: Shown | None = None) -> Note:
    """Return the note on a spring, in a reader's units and language.

    Those of the specification if left out; the same spring gives the same note.
    """
    shown = shown or spring.shown_in(typeset=True)
    sources = Sources()
    written = Written(
        spring=spring,
        s=spring.worked_summary,
        shown=shown,
        sources=sources,
        steps=Steps(spring.explained_numbers(), shown, sources),
    )
    blocks = tuple(block for section in SECTIONS for block in section(written))
    text = spring.specification_text
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    return Note(
        title=shown.say("Calculation note"),
        subtitle=spring.spec.name,
        facts=(
            *_verdict(written),
            (shown.say("program"), f"springgeo {__version__}"),
            (shown.say("digest of the specification (SHA-256)"), digest),
            (shown.say("digest of the summary (SHA-256)"), spring.summary().digest()),
            (shown.say("computed by"), ""),
            (shown.say("checked by"), ""),
        ),
        blocks=blocks,
        language=shown.language,
        paper=_paper(spring, shown),
        foot=f"{spring.spec.name} · springgeo {__version__} · {digest}",
    )


def _paper(spring: ComputedSpring, shown: Shown) -> str:
    """Return the paper of the specification's sheet; without one, that of the reader's units."""
    letter = shown.units == "inch"
    if (asked := spring.spec.drawing.paper) is not None:
        letter = asked == "Letter"
    return "us-letter" if letter else "a4"


def _verdict(w: Written) -> tuple[tuple[str, str], ...]:
    found = w.s.verdict
    return () if found is None else ((w.shown.say("verdict"), w.shown.text(found.words)),)
