"""The file on the desk: its text, what it was before, and what others do to it meanwhile."""

from __future__ import annotations

import os
from collections import OrderedDict
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from springgeo.desk.edited import edited, values
from springgeo.errors import FileError
from springgeo.publish.atomic import atomic_write
from springgeo.text.safe_yaml import LARGEST
from springgeo.text.text_file import text_of

# texts kept: steps back, and as many characters in all
MOST_STEPS = 500
MOST_KEPT = 20_000_000

Whose = Literal["file", "page"]


@dataclass(frozen=True)
class Conflict:
    """A value that was changed on the page and, unseen by it, elsewhere."""

    key: str
    file: str | None
    page: str | None


@dataclass(eq=False)
class SpecFile:
    """A specification on disk, edited here and elsewhere.

    Every text it ever had is numbered; a page says by the number which one it has seen. Nothing
    is lost: what another editor saved is a step of its own, and the step before it is the text
    that stood here.

    Parameters
    ----------
    path : Path

    Raises
    ------
    FileError
        The file cannot be read.
    """

    path: Path
    number: int = 0
    gone: bool = False
    _texts: OrderedDict[int, str] = field(default_factory=OrderedDict)
    _before: list[int] = field(default_factory=list)
    _after: list[int] = field(default_factory=list)
    _stamp: tuple[int, int, int] | None = None

    def __post_init__(self) -> None:
        self._texts[0] = text_of(self.path)
        self._stamp = self._look()

    @property
    def text(self) -> str:
        """The text as it stands."""
        return self._texts[self.number]

    @property
    def steps(self) -> tuple[int, int]:
        """How many steps can be taken back, and forth again."""
        return len(self._before), len(self._after)

    def poll(self) -> bool:
        """Take in what another editor did; return whether anything changed.

        Raises
        ------
        FileError
            The file is there and cannot be read.
        """
        stamp = self._look()
        if stamp == self._stamp:
            return False
        was_gone, self.gone = self.gone, stamp is None
        self._stamp = stamp
        if stamp is None:
            return True
        text = text_of(self.path)
        if text == self.text:
            return was_gone
        self._take(text)
        return True

    def change(
        self, changes: dict[str, str | None], seen: int, whose: Whose | None = None
    ) -> list[Conflict]:
        """Write values into the file, unless another editor changed the same ones meanwhile.

        Parameters
        ----------
        changes : dict of key to typed text or None
        seen : int
            The number of the text that they were made to.
        whose : {"file", "page"}, optional
            Settles conflicts; without it they are returned and nothing is written.

        Raises
        ------
        SpecError
            The text is no YAML, or a value cannot stand in it.
        FileError
            The file is gone, or cannot be written.
        """
        self.poll()
        self._require_there()
        found = self._conflicts(changes, seen)
        if found and whose is None:
            return found
        kept = {c.key for c in found} if whose == "file" else set()
        text = self.text
        for key, value in changes.items():
            if key not in kept:
                text = edited(text, key, value)
        if text != self.text:
            self._write(text)
            self._take(text)
        return []

    def back(self) -> bool:
        """Take one step back; return whether there was one."""
        return self._turn(self._before, self._after)

    def forth(self) -> bool:
        """Take one step forth again; return whether there was one."""
        return self._turn(self._after, self._before)

    def restore(self) -> None:
        """Write a file that is gone again, as it was last."""
        self._write(self.text)
        self.gone = False

    def _turn(self, source: list[int], target: list[int]) -> bool:
        self.poll()
        self._require_there()
        if not source:
            return False
        number = source.pop()
        self._write(self._texts[number])
        target.append(self.number)
        # the text of another number again: a page that saw the one between must notice
        self._keep(self._texts[number])
        return True

    def _conflicts(self, changes: dict[str, str | None], seen: int) -> list[Conflict]:
        base = self._texts.get(seen)
        if seen == self.number or base is None:
            return []
        try:
            was, now = values(base), values(self.text)
        except Exception:
            return []
        found = []
        for key, value in changes.items():
            mine = None if value is None else value.strip()
            if was.get(key) != now.get(key) and now.get(key) != mine:
                found.append(Conflict(key, now.get(key), value))
        return found

    def _take(self, text: str) -> None:
        self._before.append(self.number)
        self._after.clear()
        self._keep(text)

    def _keep(self, text: str) -> None:
        self.number = max(self._texts) + 1
        self._texts[self.number] = text
        while len(self._texts) > MOST_STEPS or sum(map(len, self._texts.values())) > MOST_KEPT:
            number, _ = self._texts.popitem(last=False)
            self._before[:] = [n for n in self._before if n != number]
            self._after[:] = [n for n in self._after if n != number]

    def _write(self, text: str) -> None:
        if len(text.encode()) > LARGEST:
            raise FileError(f"the text would be larger than {LARGEST / 1e6:g} MB; shorten it")
        atomic_write(self.path, text.encode("utf-8"))
        self._stamp = self._look()

    def _require_there(self) -> None:
        if self.gone:
            raise FileError(f"'{self.path.name}' is gone; write it again, or put it back")

    def _look(self) -> tuple[int, int, int] | None:
        try:
            found = os.stat(self.path)  # noqa: PTH116 - as cheap as can be: asked all the time
        except OSError:
            return None
        return found.st_mtime_ns, found.st_size, found.st_ino
