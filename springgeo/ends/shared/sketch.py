"""The sketch of an end style is drawn once: in the docstring of its file."""

from __future__ import annotations

import textwrap


def sketch_in(doc: str | None) -> str:
    """Return the lines between the first pair of triple back-ticks; none if Python dropped them."""
    parts = (doc or "").split("```")
    return textwrap.dedent(parts[1].strip("\n")).rstrip() if len(parts) > 2 else ""
