"""What the note ends with: findings, cautions, sources."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.note.model import Block, Bullets, Heading, Table, Text, Verbatim
from springgeo.note.sections.written import Written
from springgeo.text.naming import subject


def findings(w: Written) -> Iterator[Block]:
    """Yield what was found, and the checks on the shape."""
    shown, s = w.shown, w.s
    yield Heading(shown.say("Findings"))
    said = {
        "error": shown.say("Error"),
        "warning": shown.say("Warning"),
        "note": shown.say("Note"),
    }
    if s.findings:
        yield Bullets(
            tuple(
                f"{said[f.severity]}, {shown.text(subject(f.field))}: {shown.text(f.message)}"
                for f in s.findings
            )
        )
    else:
        yield Text(shown.say("Nothing was found."))
    failed = [c.name for c in s.checks if not c.ok]
    if failed:
        yield Text(shown.say("Checks on the shape that failed: {names}", names=", ".join(failed)))
    else:
        count = shown.say(
            "All {count} checks on the shape as drawn are passed.", count=len(s.checks)
        )
        yield Text(count)


def cautions(w: Written) -> Iterator[Block]:
    """Yield the cautions."""
    yield Heading(w.shown.say("Cautions"))
    yield Bullets(tuple(w.shown.text(c) for c in w.s.cautions))


def sources(w: Written) -> Iterator[Block]:
    """Yield what was cited, how it is known, and the specification as it was read."""
    shown = w.shown
    yield Heading(shown.say("Sources"))
    listed = enumerate(w.sources.works, start=1)
    yield Table((), tuple((f"[{i}]", shown.text(x.reference)) for i, x in listed), words=(1,))
    yield Text(
        shown.say(
            "How each formula and figure is known (read in its source, or from memory of it) "
            "stands beside it in springgeo explain."
        )
    )
    yield Heading(shown.say("The specification"))
    yield Verbatim(w.spring.specification_text)
