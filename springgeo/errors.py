"""What springgeo raises: one family, so that a caller can catch it and a command can print it."""

from __future__ import annotations

from collections.abc import Iterable

from springgeo.findings import Finding, error
from springgeo.message import Text


class SpringgeoError(Exception):
    """Base of every exception raised on purpose by this package."""


class SpecError(SpringgeoError, ValueError):
    """The specification cannot be made.

    Attributes
    ----------
    findings : tuple of Finding
        The findings of severity ``error``, at least one.
    """

    def __init__(self, findings: Finding | Iterable[Finding]) -> None:
        self.findings = (findings,) if isinstance(findings, Finding) else tuple(findings)
        super().__init__("\n".join(f.line() for f in self.findings))


def refused(code: str, field: str, message: Text) -> SpecError:
    """Return the exception for one thing that cannot be made."""
    return SpecError(error(code, field, message))


class FileError(SpringgeoError, OSError):
    """A file cannot be read or written; the message names it and says why."""


class BuildError(SpringgeoError, RuntimeError):
    """A check on something already built failed; nothing is handed out."""
