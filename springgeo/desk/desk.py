"""The desk itself: one file, what is asked about it, and what is done to it."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from springgeo.desk import work
from springgeo.desk.edited import edited, values
from springgeo.desk.fields import end_fields, fields
from springgeo.desk.file import SpecFile
from springgeo.desk.lane import Answer, Lane, process, thread
from springgeo.desk.numbers import findings_shown
from springgeo.desk.styles import offered
from springgeo.errors import FileError, SpecError
from springgeo.text.shown import LANGUAGES, Shown

# how long a page waits for news, and how often the file is looked at, s
PATIENCE = 20.0
LOOK = 0.15
# what may be saved from the page
FILES = ("step", "stl", "3mf", "glb", "obj", "ply", "brep", "json", "html", "pdf", "svg", "dxf")
_LONGEST = 4000


class BadQuestionError(ValueError):
    """What was asked is no question of a page of ours."""


@dataclass(eq=False)
class Desk:
    """Answers what a page asks, as plain data.

    Parameters
    ----------
    path : path
        Of the specification.
    shown : Shown, optional
        The reader's units and language; those of the file if left out.
    apart : bool
        Whether slow questions have processes of their own.

    Raises
    ------
    FileError
        The file cannot be read.
    """

    path: Path
    shown: Shown | None = None
    apart: bool = True
    closing: bool = False
    _lanes: dict[str, Lane] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.file = SpecFile(self.path)
        self.was = self.file.text
        for name, nice in (("near", 0), ("shape", 0), ("whole", 10), ("files", 10)):
            alone = self.apart and name != "near"
            self._lanes[name] = Lane(process(nice) if alone else thread, apart=alone)
        self._asks: dict[str, Callable[[dict[str, object]], Awaitable[Answer]]] = {
            "start": self._start,
            "near": self._near,
            "shape": self._shape,
            "whole": self._whole,
            "change": self._change,
            "back": self._back,
            "forth": self._forth,
            "keep": self._keep,
            "restore": self._restore,
            "wait": self._wait,
            "style": self._style,
            "sheet": self._sheet,
            "file": self._file,
        }

    async def ask(self, question: object) -> Answer:
        """Return the answer to a question, ``{"what": ..., ...}``.

        What cannot be is an answer too: ``refused`` holds findings. Raises BadQuestionError.
        """
        if not isinstance(question, dict) or question.get("what") not in self._asks:
            raise BadQuestionError("no such question")
        try:
            return await self._asks[question["what"]](question)
        except SpecError as exc:
            return {"refused": findings_shown(exc.findings, self.reader())} | self._standing()
        except FileError as exc:
            told = {"severity": "error", "field": "", "message": str(exc), "code": "file"}
            return {"refused": [told]} | self._standing()

    def close(self) -> None:
        """End what runs beside."""
        for lane in self._lanes.values():
            lane.close()

    def reader(self) -> Shown:
        """Return who reads: as asked for, or as the file says."""
        if self.shown is not None:
            return self.shown
        try:
            said = values(self.file.text)
        except Exception:
            return Shown(typeset=True)
        language = next((x for x in LANGUAGES if x == said.get("language")), LANGUAGES[0])
        return Shown("inch" if said.get("units") == "inch" else "mm", language, typeset=True)

    # what a page is told of the file --------------------------------------------------------

    def _standing(self) -> dict[str, object]:
        back, forth = self.file.steps
        typed: Mapping[str, object]
        try:
            typed, problem = values(self.file.text), ""
        except Exception as exc:
            typed, problem = {}, " ".join(str(exc).split())[:300]
        return {
            "number": self.file.number,
            "gone": self.file.gone,
            "values": typed,
            "unreadable": problem,
            "back": back,
            "forth": forth,
        }

    async def _start(self, _question: dict[str, object]) -> Answer:
        shown = self.reader()
        return self._standing() | {
            "name": self.path.name,
            "fields": fields(shown),
            "ends": end_fields(shown),
            "styles": offered(),
            "files": list(FILES),
        }

    # what is asked about the spring ---------------------------------------------------------

    def _source(self, question: dict[str, object]) -> work.Source:
        """Return the text a question is about: as it was, or as it is with changes on the way."""
        text = self.was if question.get("was") is True else self.file.text
        for key, value in _changes(question).items():
            text = edited(text, key, value)
        return text, str(self.path.parent), self.path.name

    async def _near(self, question: dict[str, object]) -> Answer:
        return await self._asked("near", question, work.near_of)

    async def _shape(self, question: dict[str, object]) -> Answer:
        rough = question.get("rough") is True
        return await self._asked("shape", question, work.shape_of, _load(question), rough)

    async def _whole(self, question: dict[str, object]) -> Answer:
        return await self._asked("whole", question, work.whole_of)

    async def _style(self, question: dict[str, object]) -> Answer:
        side, name = question.get("side"), question.get("style")
        if side not in ("first", "second") or name not in offered():
            raise BadQuestionError("no such style")
        question = question | {"page": f"{_page(question)} {side}{name}"}
        return await self._asked("whole", question, work.style_of, side, name, _load(question))

    async def _sheet(self, question: dict[str, object]) -> Answer:
        return await self._asked("files", question, work.sheet_of)

    async def _file(self, question: dict[str, object]) -> Answer:
        if question.get("kind") not in FILES:
            raise BadQuestionError("no such file")
        question = question | {"page": f"{_page(question)} {question['kind']}"}
        return await self._asked("files", question, work.file_of, question["kind"])

    async def _asked(
        self, lane: str, question: dict[str, object], call: Callable[..., Answer], *more: object
    ) -> Answer:
        source = self._source(question)
        page = f"{_page(question)} {question.get('was') is True}"
        return await self._lanes[lane].ask(page, call, source, *more, self.reader())

    # what is done to the file ---------------------------------------------------------------

    async def _change(self, question: dict[str, object]) -> Answer:
        seen, whose = question.get("seen"), question.get("whose")
        if not isinstance(seen, int) or whose not in (None, "file", "page"):
            raise BadQuestionError("what was seen is no number")
        found = self.file.change(_changes(question), seen, whose)
        conflicts = [{"key": c.key, "file": c.file, "page": c.page} for c in found]
        return self._standing() | {"conflicts": conflicts}

    async def _back(self, _question: dict[str, object]) -> Answer:
        self.file.back()
        return self._standing()

    async def _forth(self, _question: dict[str, object]) -> Answer:
        self.file.forth()
        return self._standing()

    async def _restore(self, _question: dict[str, object]) -> Answer:
        self.file.poll()
        if self.file.gone:
            self.file.restore()
        return self._standing()

    async def _keep(self, _question: dict[str, object]) -> Answer:
        """Take the spring as it is for what it was, from now on."""
        self.was = self.file.text
        return self._standing()

    async def _wait(self, question: dict[str, object]) -> Answer:
        """Answer as soon as the file is not what the page has seen, or after a while."""
        seen, gone = question.get("seen"), question.get("gone") is True
        for _ in range(round(PATIENCE / LOOK)):
            self.file.poll()
            if self.closing or self.file.number != seen or self.file.gone != gone:
                break
            await asyncio.sleep(LOOK)
        return self._standing()


def _page(question: dict[str, object]) -> str:
    return str(question.get("page", ""))[:40]


def _changes(question: dict[str, object]) -> dict[str, str | None]:
    asked = question.get("changes", {})
    if not isinstance(asked, dict) or len(asked) > 100:
        raise BadQuestionError("changes are texts by their keys")
    found: dict[str, str | None] = {}
    for key, value in asked.items():
        text = value is None or (isinstance(value, str) and len(value) <= _LONGEST)
        if not isinstance(key, str) or len(key) > 100 or not text:
            raise BadQuestionError("changes are texts by their keys")
        found[key] = value
    return found


def _load(question: dict[str, object]) -> float:
    load = question.get("load", 0.0)
    if isinstance(load, bool) or not isinstance(load, int | float) or not 0 <= load < 1e9:
        raise BadQuestionError("the load is no number")
    return float(load)
