"""What the terminal gets: nothing that does not show, and a plain word where it takes no more."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

from springgeo.errors import SpringgeoError
from springgeo.text.characters import shown


class OutputError(SpringgeoError):
    """What a command has to say cannot be written."""


class Shown:
    """A stream that writes hidden characters out and tells when it cannot write.

    Parameters
    ----------
    bare : text stream or None
        Where it goes; None where the program was started with this stream closed.
    must : bool
        Whether a failure is an error. Nobody can be told that messages cannot be written.
    """

    encoding, errors = "utf-8", "strict"

    def __init__(self, bare: Any, must: bool) -> None:
        self.bare, self.must = bare, must

    def write(self, text: str) -> int:
        """Write a text; raises OutputError, or BrokenPipeError where the reader went away."""
        if not isinstance(text, str):
            raise TypeError("needs a text")  # asked by click, which tries bytes first
        with self._explained():
            if self.bare is None:
                raise OSError("it is closed")
            kind = getattr(self.bare, "encoding", None) or "utf-8"
            plain = shown(text, lines=True).encode(kind, "backslashreplace").decode(kind)
            self.bare.write(plain)
        return len(text)

    def flush(self) -> None:
        """Flush the stream; raises as `write`."""
        with self._explained():
            if self.bare is not None:
                self.bare.flush()

    def isatty(self) -> bool:
        """Return whether somebody reads along."""
        return self.bare is not None and bool(self.bare.isatty())

    @contextmanager
    def _explained(self) -> Iterator[None]:
        try:
            yield
        except OSError as exc:
            if not self.must:
                return
            if isinstance(exc, BrokenPipeError):
                raise
            reason = (exc.strerror or str(exc)).lower()
            raise OutputError(f"cannot write to standard output: {reason}") from None


@contextmanager
def guarded() -> Iterator[None]:
    """Let everything that is printed in the block pass through `Shown`."""
    out, err = sys.stdout, sys.stderr
    streams: Any = Shown(out, must=True), Shown(err, must=False)
    sys.stdout, sys.stderr = streams
    try:
        yield
    finally:
        sys.stdout, sys.stderr = out, err


def terminal() -> Any:
    """Return the stream of messages for text that moves the cursor on purpose, or None."""
    return getattr(sys.stderr, "bare", sys.stderr)


def silence() -> None:
    """Send the rest of standard output nowhere: Python flushes at exit and would complain."""
    with suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def open_closed() -> None:
    """Give the standard streams that are closed a place, lest a file of ours takes their number."""
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # the lowest free number: this one
