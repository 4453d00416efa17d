"""One line on the terminal that says what is being done; nothing in pipes and files."""

from __future__ import annotations

import sys
from contextlib import suppress
from types import TracebackType
from typing import Self

from springgeo.cli.output import terminal
from springgeo.text.characters import shown

_CLEAR = "\r\033[K"
_WIDTH = 20


class Progress:
    """Counts steps on one line of a terminal, and takes the line away at the end.

    Parameters
    ----------
    total : int
        How many steps there are.
    """

    def __init__(self, total: int) -> None:
        self.total, self.done = total, 0
        self.shown = sys.stderr.isatty()

    def __enter__(self) -> Self:
        return self

    def __call__(self, text: str) -> None:
        """Start the next step."""
        if self.shown:
            full = round(_WIDTH * min(self.done, self.total) / self.total)
            bar = "#" * full + "-" * (_WIDTH - full)
            line(f"[{bar}] {text[:50]}")
        self.done += 1

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self.shown:
            line("")


def line(text: str) -> None:
    """Put a text in the place of the terminal's last line; none clears it."""
    stream = terminal()
    with suppress(OSError):
        stream.write(_CLEAR + (f"  {shown(text)}" if text else ""))
        stream.flush()
