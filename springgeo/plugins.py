"""Plug-ins of an entry-point group: found by name without importing them, imported when used.

What comes from elsewhere may raise, hang, leave the program or be something else altogether, at
import and at every call. Here is the one place where that becomes a line of text.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Mapping
from contextlib import redirect_stdout
from dataclasses import dataclass, field
from functools import cached_property
from importlib.metadata import EntryPoint, PackageNotFoundError, distribution, entry_points
from typing import Generic, TypeVar

from springgeo.errors import SpecError, SpringgeoError, refused
from springgeo.findings import Finding, nearest, warning

T = TypeVar("T")

OWN = "springgeo"
# seconds that a plug-in from elsewhere may take to be imported, and to answer one call
IMPORT, CALL = 20.0, 20.0


class PluginError(Exception):
    """A plug-in from elsewhere raised, hung, or left; the message says how, in one line."""


def contained(
    call: Callable[[], T],
    seconds: float | None = None,
    passing: tuple[type[BaseException], ...] = (),
) -> T:
    """Return what somebody else's code returns, or raise PluginError.

    It has ``seconds`` (`CALL`) to do so, in a thread of its own, which is left behind where it
    hangs; what it prints goes to standard error. This package's own errors pass through, and
    those named by ``passing``.
    """
    limit = CALL if seconds is None else seconds
    answer: list[T] = []
    raised: list[BaseException] = []

    def run() -> None:
        try:
            answer.append(call())
        except BaseException as exc:  # also SystemExit: it must not end others
            raised.append(exc)

    thread = threading.Thread(target=run, name="springgeo-plug-in", daemon=True)
    with redirect_stdout(sys.stderr):
        thread.start()
        thread.join(limit)
    if answer:
        return answer[0]
    if not raised:
        raise PluginError(f"it gave no answer within {limit:g} s")
    if isinstance(raised[0], (SpringgeoError, PluginError, *passing)):
        raise raised[0]
    words = f"{type(raised[0]).__name__}: {raised[0]}"
    raise PluginError(words.rstrip(": ")[:300]) from raised[0]


@dataclass
class Plugins(Generic[T]):
    """Everything of one entry-point group, by name; in-tree ones cannot be displaced.

    Attributes
    ----------
    group : str
    kind, code, where : str
        What one is called, the word in findings' codes, and the field they name.
    accepted : callable
        ``accepted(thing, name, own) -> T``: the thing as it is to be used; raises ValueError with
        the reason where it is none. ``own`` is false for one from elsewhere.
    """

    group: str
    kind: str
    code: str
    where: str
    accepted: Callable[[object, str, bool], T]
    _loaded: dict[str, T] = field(default_factory=dict)
    _problems: dict[tuple[str, str], str] = field(default_factory=dict)
    _registered: set[str] = field(default_factory=set)

    def is_own(self, name: str) -> bool:
        """Return whether a name is one of this package's."""
        return name in self._own

    @cached_property
    def _own(self) -> Mapping[str, EntryPoint]:
        """Entries of this package, read without looking through every other package."""
        try:
            found = distribution(OWN).entry_points.select(group=self.group)
        except PackageNotFoundError:
            found = entry_points(group=self.group)
        return {e.name: e for e in found if _is_own(e)}

    @cached_property
    def _entries(self) -> Mapping[str, EntryPoint]:
        found: dict[str, EntryPoint] = dict(self._own)
        for entry in sorted(entry_points(group=self.group), key=lambda e: (e.name, e.value)):
            first = found.setdefault(entry.name, entry)
            if first.value != entry.value:
                text = f"another {self.kind} already has this name"
                self._problems[entry.name, entry.value] = text
        return found

    def names(self) -> tuple[str, ...]:
        """Return every name known, without importing anything."""
        return tuple(sorted({*self._entries, *self._registered}))

    def get(self, name: str) -> T:
        """Return one by name; imports that one alone.

        Raises
        ------
        SpecError
            There is none of that name, with the nearest; or it cannot be used, with the reason.
        """
        if not isinstance(name, str):
            raise self._unknown(name)
        if name not in self._loaded:
            entry = self._own.get(name) or self._entries.get(name)
            if entry is None:
                raise self._unknown(name)
            if not self._load(entry):
                text = self._problems[entry.name, entry.value]
                text = f"{self.kind} '{name}' ({entry.value}) cannot be used: {text}"
                raise refused(f"{self.code}-unusable", self.where, _line(text))
        return self._loaded[name]

    def every(self) -> Mapping[str, T]:
        """Return all that can be used, by name; imports everything."""
        for entry in self._entries.values():
            if entry.name not in self._loaded:
                self._load(entry)
        return dict(sorted(self._loaded.items()))

    def skipped(self) -> tuple[Finding, ...]:
        """Return a warning for each that cannot be used; imports everything."""
        self.every()
        return tuple(
            warning(
                f"{self.code}-skipped",
                self.where,
                _line(f"{self.kind} '{name}' ({value}) is left out: {problem}"),
            )
            for (name, value), problem in sorted(self._problems.items())
        )

    def register(self, thing: object) -> T:
        """Make one known for as long as this process runs; return it as it will be used.

        Raises
        ------
        SpecError
            It is none, or its name is taken by one that is installed. A name registered before
            is replaced.
        """
        name = getattr(thing, "name", None)
        shown = str(name)[:60]
        if isinstance(name, str) and name in self._entries:
            text = f"'{shown}' is an installed {self.kind}; give yours another name"
            raise refused(f"{self.code}-name-taken", self.where, _line(text))
        try:
            found = self.accepted(thing, name if isinstance(name, str) else shown, False)
        except ValueError as exc:
            text = f"{self.kind} '{shown}' cannot be used: {exc}"
            raise refused(f"{self.code}-unusable", self.where, _line(text)) from None
        self._loaded[shown] = found
        self._registered.add(shown)
        return found

    def _load(self, entry: EntryPoint) -> bool:
        key = entry.name, entry.value
        if key in self._problems:
            return False
        try:
            if _is_own(entry):
                self._loaded[entry.name] = self.accepted(entry.load(), entry.name, True)
            else:
                thing = contained(entry.load, IMPORT)
                self._loaded[entry.name] = self.accepted(thing, entry.name, False)
        except (PluginError, ValueError, SpringgeoError) as exc:
            self._problems[key] = str(exc)
            return False
        return True

    def _unknown(self, name: object) -> SpecError:
        shown = " ".join(str(name)[:60].split())
        article = "an" if self.kind[0] in "aeiou" else "a"
        text = f"'{shown}' is not {article} {self.kind}; {nearest(shown, self.names())}"
        return refused(f"unknown-{self.code}", self.where, text)


def _is_own(entry: EntryPoint) -> bool:
    return entry.value.startswith(f"{OWN}.")


def _line(text: str) -> str:
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
